// Pairs that do not belong together, and good pairs, each by name: what must be found and what must
// be left alone. The right walls are plain geometry: two bowls of 24.2 and 25 mm about one middle
// are 0.8 mm apart everywhere.
#include "wall/fit/fit_findings.h"

#include "base/errors.h"
#include "mesh/load/load_mesh.h"
#include "support/real_data.h"
#include "support/shapes.h"
#include "wall/fit/likely_mistakes.h"
#include "wall/measure_wall.h"
#include "wall/surface/open_runs.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <functional>
#include <numbers>
#include <random>
#include <set>

using namespace leastwall;
using namespace leastwall::test;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

constexpr double kLimit = 0.6;

struct Found {
  std::set<std::string> unproven, doubts;
  double least_mm = 0;
  std::string words;
};

Found found(const TriMesh& pocket, const TriMesh& skin, double limit_mm = kLimit) {
  Found out;
  MeasureOptions options;
  options.ceiling_mm = 1.5;
  options.fine_spacing_mm = 2;
  options.pocket_map = false;
  options.land = true;
  std::vector<Notice> notices = likely_mistakes(pocket.box(), skin.box());
  try {
    const WallMeasurement m = measure_wall(pocket, skin, options, {});
    out.least_mm = m.least.wall_mm;
    for (const Notice& n : fit_findings(m.facts, {limit_mm, m.least.wall_mm, 0.3}))
      notices.push_back(n);
  } catch (const InputError& e) {
    notices.push_back({"refused", e.what(), Severity::unproven});
  }
  for (const Notice& n : notices) {
    if (n.severity == Severity::unproven)
      out.unproven.insert(n.code);
    if (n.severity == Severity::doubt)
      out.doubts.insert(n.code);
    out.words += n.text + "\n";
  }
  return out;
}

TriMesh without(TriMesh mesh, const std::function<bool(Vec3)>& gone) {
  std::erase_if(mesh.triangles, [&](const Tri& t) {
    return gone((mesh.vertices[t[0]] + mesh.vertices[t[1]] + mesh.vertices[t[2]]) / 3.0);
  });
  return mesh;
}

TriMesh upside_down(TriMesh mesh) {
  const Box box = mesh.box();
  for (Vec3& v : mesh.vertices)
    v.z = box.low.z + box.high.z - v.z;
  return mesh;
}

/// Facets between the rim of a bowl and the middle of its opening.
TriMesh with_lid(TriMesh bowl, int slices) {
  const auto middle = static_cast<std::uint32_t>(bowl.vertices.size());
  const Box box = bowl.box();
  bowl.vertices.push_back({box.middle().x, box.middle().y, box.high.z});
  std::vector<std::uint32_t> rim;
  for (std::uint32_t v = 0; v < middle; ++v)
    if (std::abs(bowl.vertices[v].z - box.high.z) < 1e-9)
      rim.push_back(v);
  REQUIRE(rim.size() == static_cast<std::size_t>(slices));
  std::sort(rim.begin(), rim.end(), [&](std::uint32_t a, std::uint32_t b) {
    const Vec3 p = bowl.vertices[a] - bowl.vertices[middle],
               q = bowl.vertices[b] - bowl.vertices[middle];
    return std::atan2(p.y, p.x) < std::atan2(q.y, q.x);
  });
  for (std::size_t i = 0; i < rim.size(); ++i)
    bowl.triangles.push_back({middle, rim[i], rim[(i + 1) % rim.size()]});
  return bowl;
}

constexpr int kSlices = 96;
TriMesh inner() {
  return bowl({}, 24.2, kSlices, 48);
}
TriMesh outer() {
  return bowl({}, 25, kSlices, 48);
}
TriMesh plug() {
  return with_lid(inner(), kSlices);
}
TriMesh body() {
  return with_lid(outer(), kSlices);
}
bool at_bottom(Vec3 p) {
  return std::hypot(p.x, p.y) < 6 && p.z < -10;
}

/// Parts of a bowl that are lost where they meet its rim.
bool notch(Vec3 p) {
  return p.x > 5 && std::abs(p.y) < 4 && p.z > -12 && p.z < -1e-6;
}
bool wedge(Vec3 p) {
  return p.x > 0 && std::abs(p.y) < 0.2 * p.x && p.z < -1e-6;
}
bool across(Vec3 p) {
  return std::abs(p.y) < 0.2 * std::abs(p.x) && p.z < -1e-6;
}
bool upper(Vec3 p) {
  return p.z > -24.2 * std::sin(std::numbers::pi / 12); // whole rows
}
bool under_lid(Vec3 p) {
  return upper(p) && p.z < -1e-6;
}

TriMesh flat(double z, double half = 30) {
  const int n = static_cast<int>(half); // facets of 2 mm
  return sheet({-half, half}, {-half, half}, n, n, [z](double, double) { return z; });
}

struct Pair {
  const char* name;
  const char* code;
  TriMesh pocket, skin;
};

TriMesh demo(const char* name) {
  return load_mesh(std::filesystem::path(LEASTWALL_SOURCE_DIR) / "meshes" / name, {}, {}).mesh;
}

} // namespace

TEST_CASE("pairs that do not belong together are unproven, each by its name") {
  const TriMesh p = inner(), s = outer();
  const std::vector<Pair> pairs = {
      {"pocket just above the rim", "heights-apart", moved(p, {0, 0, 24.2}), s},
      {"pocket far above", "heights-apart", moved(p, {0, 0, 70}), s},
      {"skin far below", "heights-apart", p, moved(s, {0, 0, -40})},
      {"pocket upside down", "upside-down", upside_down(p), s},
      {"plug upside down in a block", "upside-down", upside_down(plug()),
       box({-40, -40, -40}, {40, 40, 0})},
      {"pocket half as large", "pocket-scale", scaled(p, 0.5), s},
      {"pocket half as large, bodies", "pocket-scale", scaled(plug(), 0.5), body()},
      {"pocket a tenth", "pocket-scale", scaled(p, 0.1), s},
      {"skin twice as large", "pocket-scale", p, scaled(s, 2)},
      {"skin ten times", "pocket-scale", plug(), scaled(body(), 10)},
      {"both in inches", "size-beyond", scaled(p, 25.4 * 2), scaled(s, 25.4 * 2)},
      {"hole in the skin sheet", "hole", p, without(s, at_bottom)},
      {"hole in the pocket sheet", "hole", without(p, at_bottom), s},
      {"hole in the skin body", "hole", plug(), without(body(), at_bottom)},
      {"hole in the plug", "hole", without(plug(), at_bottom), body()},
      {"one facet lost", "hole", p,
       [&] {
         TriMesh m = s;
         m.triangles.erase(m.triangles.begin() + static_cast<long>(m.triangles.size()) - 200);
         return m;
       }()},
      {"hole in a flat skin", "hole", flat(-5),
       without(flat(-6, 25), [](Vec3 v) { return std::abs(v.x) < 4 && std::abs(v.y) < 4; })},
      {"bottom of a box lost", "hole", box({-20, -20, -9}, {20, 20, 0}),
       without(box({-21, -21, -10}, {21, 21, 0}), [](Vec3 v) { return v.z < -9.99; })},
      {"notch from the rim in the pocket sheet", "hole", without(p, notch), s},
      {"notch from the rim in the plug", "hole", without(plug(), notch), body()},
      {"notch in the pocket sheet, skin a body", "hole", without(p, notch), body()},
      {"notch in the skin sheet", "hole", p, without(s, notch)},
      {"notch in the skin body", "hole", plug(), without(body(), notch)},
      {"wedge from rim to bottom", "hole", without(p, wedge), s},
      {"wedge from rim to bottom, bodies", "hole", without(plug(), wedge), body()},
      {"cut across", "hole", without(p, across), s},
      {"cut across, bodies", "hole", without(plug(), across), body()},
      {"ring lost under the lid", "ends-below-face", without(plug(), under_lid), body()},
      {"pocket ends under the face", "ends-below-face", without(p, upper), s},
      {"pocket ends under the face, skin a body", "ends-below-face", without(p, upper), body()},
      {"skin ends under the face", "ends-below-face", p, without(s, upper)},
      {"skin body lost under its lid", "ends-below-face", plug(), without(body(), under_lid)},
      {"slit of 4 mm across a plate", "hole",
       without(flat(-5), [](Vec3 v) { return std::abs(v.x) < 2; }), flat(-6, 25)},
      {"slit from the edge to the middle", "hole",
       without(flat(-5), [](Vec3 v) { return std::abs(v.x) < 2 && v.y < 0; }), flat(-6, 25)},
      {"strips", "hole", without(flat(-5), [](Vec3 v) { return std::fmod(v.x + 60, 10) < 4; }),
       flat(-6, 25)},
      {"pocket moved off the skin", "pocket-outside", moved(flat(-5, 20), {50, 0, 0}), flat(-6)},
      {"swapped bodies", "meshes-swapped", body(), plug()},
      {"swapped sheets", "meshes-swapped", s, p},
  };
  for (const Pair& pair : pairs) {
    CAPTURE(std::string(pair.name));
    const Found f = found(pair.pocket, pair.skin);
    CAPTURE(f.least_mm);
    CAPTURE(f.words);
    CHECK(f.unproven.contains(pair.code));
  }
}

TEST_CASE("a skin upside down and a pocket that is too large are never safe") {
  for (const auto& [pocket, skin] :
       {std::pair{inner(), upside_down(outer())}, std::pair{plug(), upside_down(body())},
        std::pair{scaled(inner(), 2), outer()}, std::pair{scaled(plug(), 10), body()}}) {
    const Found f = found(pocket, skin);
    CHECK((!f.unproven.empty() || f.least_mm < kLimit));
  }
}

TEST_CASE("a hole is told with its size and place") {
  const Found f = found(inner(), without(moved(outer(), {0, 0, 0}), at_bottom));
  CHECK(f.words.find("The skin has a hole of 12") != std::string::npos);
  CHECK(f.words.find("round x 0.0 y 0.0. No wall was measured there") != std::string::npos);
}

TEST_CASE("a hole far from the other surface can hide nothing, and one as wide as it is far can") {
  CHECK(hole_matters({{}, 12, 12.5}, {0.8, 5, 0.3}));
  CHECK_FALSE(hole_matters({{}, 12, 13.2}, {0.8, 5, 0.3}));
  CHECK(hole_matters({{}, 0.2, 0.8}, {0.8, 0.8, 0.3}));
}

TEST_CASE("good pairs are left alone") {
  const TriMesh p = inner(), s = outer();
  const TriMesh leaf_pocket = demo("leaf_back.ply"), leaf_skin = demo("leaf_front.ply");
  const TriMesh gourd_pocket = demo("gourd_pocket.stl"), gourd_skin = demo("gourd_skin.stl");
  const auto no_flat = [](TriMesh m) {
    return without(std::move(m), [](Vec3 v) { return v.z > -1e-6; });
  };
  const auto near_half = [](TriMesh m) {
    return without(std::move(m), [](Vec3 v) { return v.y > 0; });
  };
  const auto wavy = [](double up) {
    return sheet({-40, 40}, {-30, 30}, 40, 30, [up](double x, double y) {
      return -8 + up + 1.5 * std::sin(x / 9) * std::cos(y / 7);
    });
  };
  // A tear of 0.02 mm along the middle of the bowl.
  TriMesh torn = s;
  {
    std::vector<std::uint32_t> twin(torn.vertices.size(), 0);
    const std::size_t before = torn.vertices.size();
    for (Tri& t : torn.triangles) {
      const Vec3 mid = (torn.vertices[t[0]] + torn.vertices[t[1]] + torn.vertices[t[2]]) / 3.0;
      if (mid.x > 0)
        for (std::uint32_t& v : t)
          if (v < before && std::abs(torn.vertices[v].x) < 1e-9) {
            if (twin[v] == 0) {
              twin[v] = static_cast<std::uint32_t>(torn.vertices.size());
              torn.vertices.push_back(torn.vertices[v] + Vec3{0.02, 0, 0});
            }
            v = twin[v];
          }
    }
  }
  // Every facet on its own, corners apart by a ten-thousandth.
  TriMesh loose;
  std::mt19937 random(5);
  for (const Tri& t : s.triangles) {
    const auto first = static_cast<std::uint32_t>(loose.vertices.size());
    for (const std::uint32_t v : t)
      loose.vertices.push_back(s.vertices[v] + Vec3{1e-7 * (random() % 1000), 0, 0});
    loose.triangles.push_back({first, first + 1, first + 2});
  }
  // A pocket round an island that stands up to the pocket face.
  const auto ring = [](double x, double y) {
    const double r = std::hypot(x, y);
    return r < 8 ? 0.0 : r < 10 ? -5.0 * (r - 8) : -10.0;
  };
  TriMesh round_island = sheet({-20, 20}, {-20, 20}, 80, 80, ring);
  std::erase_if(round_island.triangles, [&](const Tri& t) {
    return std::all_of(t.begin(), t.end(),
                       [&](std::uint32_t v) { return round_island.vertices[v].z > -1e-9; });
  });
  // The same pocket, round an island, that ends half a millimetre under the face, or on a slope.
  const auto slope = [](TriMesh m) {
    for (Vec3& v : m.vertices)
      v.z += 0.05 * v.x;
    return m;
  };
  const TriMesh low_island = without(round_island, [](Vec3 v) { return v.z > -0.5; });
  const auto quarter = [&](TriMesh m) {
    return without(std::move(m), [](Vec3 v) { return v.y > 0 || v.x > 0; });
  };
  const auto panel = [](double x, double y) {
    return std::max(std::abs(x) / 30, std::abs(y) / 24) > 0.9 ? -12.0 : -4.0;
  };
  const std::vector<Pair> pairs = {
      {"bowls", "", p, s},
      {"quarter of a bowl", "", quarter(p), quarter(s)},
      {"half of a plug", "", near_half(plug()), near_half(body())},
      {"island under the face", "", low_island, box({-60, -60, -11}, {60, 60, 0})},
      {"island, all on a slope", "", slope(round_island),
       slope(sheet({-60, 60}, {-60, 60}, 20, 20, [](double, double) { return -11.0; }))},
      {"framed panel under a flat pocket", "", flat(-3, 20),
       sheet({-36, 36}, {-30, 30}, 72, 60, panel)},
      {"plug and body", "", plug(), body()},
      {"plug and sheet", "", plug(), s},
      {"sheet and body", "", p, body()},
      {"facets turned", "", flipped_facets(p), flipped_facets(body())},
      {"gourd, bodies", "", gourd_pocket, gourd_skin},
      {"gourd, no flats", "", no_flat(gourd_pocket), no_flat(gourd_skin)},
      {"leaf, sheets", "", leaf_pocket, leaf_skin},
      {"leaf, natural outline", "", leaf_pocket,
       without(leaf_skin,
               [](Vec3 v) {
                 return std::hypot(v.x / 70, v.y / 42) >
                        1 + 0.05 * std::sin(9 * std::atan2(v.y, v.x));
               })},
      {"half cut by a parting plane", "", near_half(p), near_half(s)},
      {"two plates", "", flat(-10), flat(-11, 25)},
      {"front up and down", "", wavy(1.2), wavy(0)},
      {"outline with small bays", "", wavy(1.2),
       without(
           sheet({-40, 40}, {-30, 30}, 80, 60,
                 [](double x, double y) { return -8 + 1.5 * std::sin(x / 9) * std::cos(y / 7); }),
           [](Vec3 v) {
             return std::pow(v.x / 38, 2) + std::pow(v.y / (15 + 3 * std::cos(v.x)), 2) > 1;
           })},
      {"panel with a floor above its front", "",
       sheet({-40, 40}, {-30, 30}, 40, 30,
             [](double x, double y) {
               return std::max(std::abs(x) / 40, std::abs(y) / 30) > 0.9 ? 0.0 : -6.0;
             }),
       wavy(0)},
      {"window hollowed from both faces", "",
       sheet({-40, 40}, {-30, 30}, 40, 30,
             [](double x, double y) { return -5 * std::exp(-(x * x + y * y) / 300); }),
       sheet({-38, 38}, {-28, 28}, 40, 30,
             [](double x, double y) { return -10 + 4.2 * std::exp(-(x * x + y * y) / 300); })},
      {"closed spheres", "", sphere({}, 24, 64, 32), sphere({}, 25, 64, 32)},
      {"tori", "", torus({}, 20, 4.2, 120, 60), torus({}, 20, 5, 120, 60)},
      {"taller plug", "", spike({3.3, -7.7, -19.3}, 6, 2), box({-40, -30, -20}, {40, 30, 0})},
      {"thick floor", "", box({-20, -20, -9}, {20, 20, 0}), box({-20.7, -21, -60}, {21, 21, 0})},
      {"a tear of 0.02 mm", "", p, torn},
      {"every facet on its own", "", p, loose},
      {"round an island", "", round_island,
       sheet({-20, 20}, {-20, 20}, 20, 20, [](double, double) { return -11.0; })},
      {"far from the origin", "", moved(p, {500, -300, 40}), moved(s, {500, -300, 40})},
  };
  for (const Pair& pair : pairs) {
    CAPTURE(std::string(pair.name));
    const Found f = found(pair.pocket, pair.skin);
    CAPTURE(f.least_mm);
    CAPTURE(f.words);
    CHECK(f.unproven.empty());
  }
  // Panels whose walls are over twice the limit.
  const auto hollow_front = [](double x, double y) {
    return -12 + 5 * std::exp(-(x * x + y * y) / 300);
  };
  const auto bowl_back = [](double x, double y) { return -6 * std::exp(-(x * x + y * y) / 300); };
  for (const auto& [pocket, skin] :
       {std::pair{flat(-3, 20), sheet({-36, 36}, {-30, 30}, 72, 60, panel)},
        std::pair{sheet({-40, 40}, {-30, 30}, 40, 30, bowl_back),
                  sheet({-38, 38}, {-28, 28}, 40, 30, hollow_front)}}) {
    const Found f = found(pocket, skin, 0.4);
    CAPTURE(f.words);
    CHECK(f.least_mm == Approx(1.0).epsilon(0.01));
    CHECK(f.unproven.empty());
  }
  // Whatever limit is asked for.
  for (const double limit : {0.1, 0.3, 1.0}) {
    CHECK(found(leaf_pocket, leaf_skin, limit).unproven.empty());
    CHECK(found(gourd_pocket, gourd_skin, limit).unproven.empty());
  }
}

TEST_CASE("real bodies and a real relief, trimmed raggedly too, are left alone") {
  const double top = 1.2345;
  for (const char* name : {"bunny00", "man", "elephant"}) {
    CAPTURE(std::string(name));
    const TriMesh whole = example_body(name, 120);
    const Found f = found(lower_half(eroded(whole, 1.6, 4), top), lower_half(whole, top));
    CAPTURE(f.words);
    CHECK(f.unproven.empty());
  }
  const Elevations e = fault_elevations();
  const auto [low, high] = std::minmax_element(e.metres.begin(), e.metres.end());
  const auto relief = [&](double up) {
    return sheet({0, 200}, {0, 168}, 100, 84, [&](double x, double y) {
      return 12 * (e.at(std::size_t(y * 2), std::size_t(x * 2)) - *low) / (*high - *low) - 30 + up;
    });
  };
  const auto ragged = [](TriMesh m) {
    return without(std::move(m), [](Vec3 v) {
      const double a = std::atan2(v.y - 84, v.x - 100);
      return std::hypot((v.x - 100) / 95, (v.y - 84) / 80) >
             0.95 + 0.05 * std::sin(13 * a) * std::cos(29 * a);
    });
  };
  for (const auto& [pocket, skin] :
       {std::pair{relief(1.2), relief(0)}, std::pair{relief(1.2), ragged(relief(0))},
        std::pair{ragged(relief(1.2)), ragged(relief(0))}}) {
    const Found f = found(pocket, skin);
    CAPTURE(f.words);
    CHECK(f.unproven.empty());
  }
}

TEST_CASE("a pocket that covers less than 2 % of the skin is doubted") {
  const Found f =
      found(sheet({-3, 3}, {-3, 3}, 4, 4, [](double, double) { return -5.0; }), flat(-5.8));
  CHECK(f.doubts.contains("pocket-small"));
  CHECK(f.unproven.empty());
}

TEST_CASE("outlines of kilometres are not searched for slits, and said to be not looked at") {
  // Strips of 100 m: 400 outlines of 200 m, cut in pieces of 5 mm, would be 16 million.
  TriMesh strips;
  for (int i = 0; i < 400; ++i)
    strips = joined(std::move(strips), sheet({0, 1e5}, {20.0 * i, 20.0 * i + 10}, 1, 1,
                                             [](double, double) { return -5.0; }));
  CHECK_FALSE(open_runs(strips, {}).looked_at);
  CHECK(open_runs(scaled(strips, 0.001), {}).looked_at);
  PieceFacts facts;
  facts.pocket.holes_looked_at = false;
  CHECK(leaves_unproven(fit_findings(facts, {0.6, 0.8, 0.3})));
}

TEST_CASE("a limit that no wall is near") {
  const Found f = found(box({-20, -20, -9}, {20, 20, 0}), box({-40, -40, -60}, {40, 40, 0}));
  CHECK(f.unproven == std::set<std::string>{"far-over-limit"});
  CHECK(found(box({-20, -20, -9}, {20, 20, 0}), box({-40, -40, -60}, {40, 40, 0}), 15)
            .unproven.empty());
}
