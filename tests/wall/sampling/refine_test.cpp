// Refined cells tile the surface they came from: area, volume, edges and Euler's formula.
#include "wall/sampling/refine.h"

#include "support/random_shapes.h"
#include "support/shapes.h"
#include "wall/sampling/flat_wall.h"
#include "wall/sheet_probe.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <limits>
#include <map>
#include <tbb/global_control.h>

using namespace leastwall;
using doctest::Approx;

namespace {

RefinedMap refined(const TriMesh& here, const TriMesh& there, const RefineOptions& options) {
  return refine(refine_start(here, options, {}), SheetProbe(there).probe, options, {});
}

TriMesh mesh_of(const WallMap& map) {
  TriMesh m;
  for (const WallSample& s : map.samples)
    m.vertices.push_back(s.at);
  m.triangles = map.cells;
  return m;
}

double area(const TriMesh& m) {
  double sum = 0;
  for (const Tri& t : m.triangles) {
    const Vec3 a = m.vertices[t[0]];
    sum += 0.5 * length(cross(m.vertices[t[1]] - a, m.vertices[t[2]] - a));
  }
  return sum;
}

/// Of a closed body that looks outwards (divergence theorem).
double volume(const TriMesh& m) {
  double sum = 0;
  for (const Tri& t : m.triangles)
    sum += dot(m.vertices[t[0]], cross(m.vertices[t[1]], m.vertices[t[2]])) / 6;
  return sum;
}

/// How many cells go along each edge one way and the other.
std::map<std::pair<std::uint32_t, std::uint32_t>, std::array<int, 2>> edges(const TriMesh& m) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::array<int, 2>> found;
  for (const Tri& t : m.triangles)
    for (std::size_t i = 0; i < 3; ++i) {
      const std::uint32_t a = t[i], b = t[(i + 1) % 3];
      ++found[{std::min(a, b), std::max(a, b)}][a < b ? 0 : 1];
    }
  return found;
}

/// The cells cover the body once, like a ball.
void check_tiles(const TriMesh& cells, const TriMesh& body) {
  CHECK(area(cells) == Approx(area(body)).epsilon(1e-12));
  CHECK(volume(cells) == Approx(volume(body)).epsilon(1e-12));
  const auto all = edges(cells);
  CHECK(std::all_of(all.begin(), all.end(), [](const auto& e) {
    return e.second == std::array<int, 2>{1, 1};
  }));
  // Euler's formula for a ball; a sample that no cell uses, or one place twice, would break it.
  CHECK(cells.vertices.size() + cells.triangles.size() == all.size() + 2);
}

/// No cell is longer than the coarse spacing, and none under the ceiling than the fine one, but
/// where its corners tell the wall all over it: known by its middle.
void check_spacing(const RefinedMap& r, const TriMesh& there, const RefineOptions& options,
                   bool some_coarse) {
  const ClosestSurface surface(there);
  double longest = 0, thin = 0;
  for (const Tri& c : r.map.cells) {
    Vec3 middle;
    double wall = 0;
    for (const std::uint32_t v : c) {
      middle += r.map.samples[v].at / 3.0;
      wall += std::abs(r.map.samples[v].wall_mm) / 3;
    }
    const bool told = std::abs(surface.nearest(middle).distance - wall) < kFlatWall_mm;
    for (std::size_t i = 0; i < 3; ++i) {
      const WallSample &p = r.map.samples[c[i]], &q = r.map.samples[c[(i + 1) % 3]];
      const double side = distance(p.at, q.at);
      longest = std::max(longest, side);
      if (std::min(p.wall_mm, q.wall_mm) < options.ceiling_mm && !told)
        thin = std::max(thin, side);
    }
  }
  CHECK(longest <= options.coarse_spacing_mm);
  CHECK(thin <= options.fine_spacing_mm);
  CHECK((longest > options.fine_spacing_mm) == some_coarse);
}

} // namespace

TEST_CASE("refining a closed body: same area, same volume, every edge of two cells") {
  // A bumpy skin about a pocket that nearly touches it on one side.
  const TriMesh skin = shapes::bumpy_ball(3, 20, 1.5, 24);
  const TriMesh pocket = shapes::sphere({2, -1, 0}, 16, 40, 20);
  const RefineOptions options{1.5, 0.4, 5};
  const RefinedMap r = refined(skin, pocket, options);
  const TriMesh cells = mesh_of(r.map);
  CHECK(r.map.samples.size() > 4 * skin.vertices.size());
  check_tiles(cells, skin);
  // The corners come first, as they were.
  for (std::size_t i = 0; i < skin.vertices.size(); ++i)
    REQUIRE(r.map.samples[i].at == skin.vertices[i]);
  check_spacing(r, pocket, options, true);
  for (std::size_t i = 0; i < r.map.samples.size(); i += 7) { // against the plain loop
    double least = 1e300;
    for (const Tri& t : pocket.triangles)
      least = std::min(least, distance(r.map.samples[i].at,
                                       closest_point(r.map.samples[i].at,
                                                     {pocket.vertices[t[0]], pocket.vertices[t[1]],
                                                      pocket.vertices[t[2]]})));
    REQUIRE(std::abs(r.map.samples[i].wall_mm) == Approx(least).epsilon(1e-12));
  }
}

TEST_CASE("refining open sheets: rims stay rims, an edge of three facets stays one of three") {
  const RefineOptions options{1.5, 0.4, 5};
  TriMesh sheets =
      shapes::sheet({-10, 10}, {-8, 8}, 3, 2, [](double x, double y) { return 0.03 * x * y; });
  // Three leaves of a book, back at x = 30.
  const auto first = static_cast<std::uint32_t>(sheets.vertices.size());
  for (const Vec3 v : {Vec3{30, -6, 0}, {30, 6, 0}, {36, 0, 0}, {36, 1, 4}, {25, -1, 3}})
    sheets.vertices.push_back(v);
  for (std::uint32_t leaf = 2; leaf < 5; ++leaf)
    sheets.triangles.push_back({first, first + 1, first + leaf});
  // A pocket floor above everything: what lies below it is wood.
  const TriMesh floor =
      shapes::sheet({-20, 40}, {-20, 20}, 4, 4, [](double, double) { return 5.0; });
  const RefinedMap r = refined(sheets, floor, options);
  const TriMesh cells = mesh_of(r.map);
  CHECK(cells.triangles.size() > 10 * sheets.triangles.size());
  CHECK(area(cells) == Approx(area(sheets)).epsilon(1e-12));
  std::array<double, 4> length_by_cells{}, want{};
  const auto add = [](const TriMesh& m, std::array<double, 4>& sums) {
    for (const auto& [ends, ways] : edges(m)) {
      const int count = ways[0] + ways[1];
      REQUIRE(count < 4);
      sums[static_cast<std::size_t>(count)] +=
          count == 2 ? 0 : distance(m.vertices[ends.first], m.vertices[ends.second]);
    }
  };
  add(cells, length_by_cells);
  add(sheets, want);
  CHECK(length_by_cells[1] == Approx(want[1]).epsilon(1e-12));
  CHECK(length_by_cells[3] == Approx(want[3]).epsilon(1e-12));
  CHECK(want[3] == Approx(12));
  check_spacing(r, floor, options, true);
}

TEST_CASE("refining one facet, and one that nothing asks to divide") {
  TriMesh one;
  one.vertices = {{0, 0, 0}, {9, 0, 0}, {0, 7, 0}};
  one.triangles = {{0, 1, 2}};
  const TriMesh near = shapes::sheet({-5, 15}, {-5, 15}, 60, 60, [](double x, double y) {
    return 0.5 + 0.1 * std::sin(5 * x) * std::sin(4 * y);
  });
  const RefineOptions options{1, 0.5, 4};
  const RefinedMap fine = refined(one, near, options);
  CHECK(area(mesh_of(fine.map)) == Approx(31.5).epsilon(1e-12));
  check_spacing(fine, near, options, false);
  const TriMesh far = shapes::moved(near, {0, 0, 100});
  const RefinedMap whole = refined(one, far, {1, 0.5, 20});
  CHECK(whole.map.cells == one.triangles);
  CHECK(whole.map.samples.size() == 3);
}

TEST_CASE("refining gives the same samples and cells on one and on four threads") {
  const TriMesh skin = shapes::bumpy_ball(5, 20, 1, 200);
  const TriMesh pocket = shapes::sphere({1, 1, -1}, 18, 64, 32);
  const auto on = [&](std::size_t threads) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    return refined(skin, pocket, {1.2, 0.4, 4});
  };
  const RefinedMap one = on(1), four = on(4);
  CHECK(one.map.cells.size() > skin.triangles.size());
  CHECK(one.map.cells == four.map.cells);
  CHECK(one.nearest == four.nearest);
  REQUIRE(one.map.samples.size() == four.map.samples.size());
  for (std::size_t i = 0; i < one.map.samples.size(); ++i) {
    const WallSample &p = one.map.samples[i], &q = four.map.samples[i];
    REQUIRE((p.at == q.at && p.n == q.n && p.wall_mm == q.wall_mm));
  }
}

TEST_CASE("flat walls are not cut finely, and their neighbours that are stay joined to them") {
  // A plain of one wall with a bump of the pocket over part of it.
  const TriMesh skin = shapes::box({-20, -15, -12}, {20, 15, -4});
  const auto bump = [](double x, double y) {
    return -3 + (std::hypot(x - 8, y) < 3 ? -0.2 * std::cos(std::hypot(x - 8, y) / 6 * 3.14159265)
                                          : 0.0);
  };
  TriMesh pocket = shapes::sheet({-30, 30}, {-25, 25}, 120, 100, bump);
  RefineOptions options{1.5, 0.2, 2};
  const RefinedMap r = refined(skin, pocket, options);
  const TriMesh cells = mesh_of(r.map);
  check_tiles(cells, skin);
  // All of the top (1200 mm2) is under the ceiling: at this spacing some 150,000 cells.
  CHECK(cells.triangles.size() < 30000);
  double length_here = 0, coarse_there = 0;
  int cells_here = 0;
  for (const Tri& c : r.map.cells) {
    const Vec3 a = r.map.samples[c[0]].at, b = r.map.samples[c[1]].at;
    if (std::abs(a.z + 4) > 1e-9 || std::abs(r.map.samples[c[2]].at.z + 4) > 1e-9)
      continue;
    if (std::hypot(a.x - 8, a.y) < 2.5 && std::hypot(a.x - 8, a.y) > 0.5) {
      ++cells_here;
      length_here += distance(a, b);
    }
    if (a.x < 0)
      coarse_there = std::max(coarse_there, distance(a, b));
  }
  CHECK(cells_here > 800); // 19 mm2
  CHECK(length_here / cells_here < 0.2);
  CHECK(coarse_there > 0.5);
}

TEST_CASE("narrow facets beside plain ones: cells that meet, as few as the spacing asks for") {
  // A drum: a fan above and below, a wall of quads that are cut in two around it.
  TriMesh drum;
  constexpr std::uint32_t kAround = 240;
  drum.vertices = {{0, 0, -2}, {0, 0, -20}};
  for (std::uint32_t i = 0; i < kAround; ++i)
    for (const double z : {-2.0, -20.0})
      drum.vertices.push_back({30 * std::cos(2 * 3.14159265358979 * i / kAround),
                               30 * std::sin(2 * 3.14159265358979 * i / kAround), z});
  for (std::uint32_t i = 0; i < kAround; ++i) {
    const std::uint32_t a = 2 + 2 * i, b = 2 + 2 * ((i + 1) % kAround);
    drum.triangles.push_back({0, a, b});
    drum.triangles.push_back({1, b + 1, a + 1});
    drum.triangles.push_back({a, a + 1, b + 1});
    drum.triangles.push_back({a, b + 1, b});
  }
  const TriMesh pocket = shapes::bumpy_sheet(3, 90, 30, 0, 0.5);
  const RefineOptions options{3, 0.8, 3};
  const RefinedMap r = refined(drum, pocket, options);
  const TriMesh cells = mesh_of(r.map);
  check_tiles(cells, drum);
  check_spacing(r, pocket, options, true);
}

TEST_CASE("where all is thin the fine spacing is widened to keep to the cells allowed") {
  const TriMesh skin = shapes::bumpy_sheet(5, 60, 60, -5, 0.8);
  const TriMesh pocket = shapes::bumpy_sheet(6, 80, 60, -4, 0.8);
  RefineOptions options{2, 0.1, 3};
  std::size_t before = 0;
  for (const std::size_t most : {20000U, 80000U, 320000U}) {
    options.max_fine_cells = most;
    const RefinedMap r = refined(skin, pocket, options);
    CHECK(r.fine_spacing_mm > 0.1);
    CHECK(r.map.cells.size() < 2 * most);
    CHECK(r.map.cells.size() > most / 4);
    CHECK(r.map.cells.size() > 2 * before);
    before = r.map.cells.size();
    RefineOptions used = options;
    used.fine_spacing_mm = r.fine_spacing_mm;
    check_spacing(r, pocket, used, true);
    CHECK(area(mesh_of(r.map)) == Approx(area(skin)).epsilon(1e-12));
  }
  options.max_fine_cells = 1'000'000'000;
  CHECK(refined(skin, pocket, {2, 0.4, 3}).fine_spacing_mm == 0.4);
}
