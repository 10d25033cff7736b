// The samples of a measurement against surfaces that are really moved and measured again.
//
// The wall of a pair of points changes by n.D when the skin moves by D against the pocket. For
// every D that errors can bring about the samples must hold a pair that tells how thin the moved
// surfaces really are. The truth is the least distance of the moved meshes by a library that shares
// no code with the project (FCL, tests/peers).
#include "mesh/load/load_mesh.h"
#include "peers/reference_library.h"
#include "support/shapes.h"
#include "wall/measure_wall.h"
#include "wall/regions/thin_regions.h"
#include "wall/surface/machined_surface.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <filesystem>
#include <limits>
#include <numbers>
#include <random>
#include <string>
#include <vector>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

constexpr double kTooThick_mm = 0.005; // what first order may leave, up to 0.2 mm
constexpr std::array kWays = {Vec3{0, 0, 1},  Vec3{0, 0, -1}, Vec3{1, 0, 0},
                              Vec3{-1, 0, 0}, Vec3{0, 1, 0},  Vec3{0, -1, 0}};

struct Pair {
  std::string name;
  TriMesh pocket, skin;
};

WallMeasurement measure(const Pair& p, double ceiling_mm = 1.2) {
  MeasureOptions options;
  options.ceiling_mm = ceiling_mm;
  options.pocket_map = false;
  return measure_wall(p.pocket, p.skin, options, RunContext{});
}

double thinnest(const WallMeasurement& m, Vec3 move, std::size_t samples) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < samples; ++i)
    least = std::min(least, m.skin.samples[i].wall_mm + dot(m.skin.samples[i].n, move));
  return least;
}
double said(const WallMeasurement& m, Vec3 move) {
  return thinnest(m, move, m.skin.samples.size());
}
double said_by_skin_alone(const WallMeasurement& m, Vec3 move) {
  return thinnest(m, move, m.skin.first_pair);
}
double truth(const Pair& p, Vec3 move) {
  return peers::mesh_distance(p.pocket, moved(p.skin, move));
}

/// A sheet swept along y whose section is the polyline (x, z).
TriMesh swept(const std::vector<std::array<double, 2>>& section, double half_length) {
  TriMesh mesh;
  for (const auto& p : section) {
    mesh.vertices.push_back({p[0], -half_length, p[1]});
    mesh.vertices.push_back({p[0], half_length, p[1]});
  }
  for (std::uint32_t i = 0; i + 1 < section.size(); ++i) {
    mesh.triangles.push_back({2 * i, 2 * i + 2, 2 * i + 3});
    mesh.triangles.push_back({2 * i, 2 * i + 3, 2 * i + 1});
  }
  return mesh;
}

/// A rib 2 mm wide stands in the pocket; in it, from the skin's side, a V groove of 30 degrees.
Pair groove_over_rib() {
  const double w = 2.48 * std::tan(std::numbers::pi / 12);
  return {"V groove over a rib",
          swept({{-30, -11.3}, {-1, -11.3}, {-1, -10}, {1, -10}, {1, -11.3}, {30, -11.3}}, 20),
          swept({{-28, -13.5}, {-w, -13.5}, {0, -11.02}, {w, -13.5}, {28, -13.5}}, 18)};
}

/// A blade of air 0.1 mm wide reaches up into a rib: its sides have 1.0 mm of wood, its end 1.1 mm.
Pair narrow_slot() {
  return {
      "narrow slot",
      swept({{-30, -12}, {-1.05, -12}, {-1.05, -9.9}, {1.05, -9.9}, {1.05, -12}, {30, -12}}, 20),
      swept({{-28, -14}, {-0.05, -14}, {-0.05, -11}, {0.05, -11}, {0.05, -14}, {28, -14}}, 18)};
}

std::vector<Pair> shaped_pairs() {
  std::vector<Pair> out = {groove_over_rib(), narrow_slot()};
  out.push_back(
      {"slot of the pocket beside a channel",
       swept({{-30, -8}, {-1.2, -8}, {-1.2, -12}, {1.2, -12}, {1.2, -8}, {30, -8}}, 20),
       swept({{-28, -10}, {-2.3, -10}, {-2.3, -13.3}, {2.3, -13.3}, {2.3, -10}, {28, -10}}, 18)});
  TriMesh down = sheet({-15, 15}, {-15, 15}, 1, 1, [](double, double) { return -9.0; });
  TriMesh up = sheet({-15, 15}, {-15, 15}, 1, 1, [](double, double) { return -13.0; });
  for (const double x : {-8.0, 0.3, 8.0}) {
    down = joined(down, spike({x, 0.2 * x, -11 + 0.03 * x}, 1.2, -8.5));
    TriMesh pin = spike({x, 0.2 * x, 0}, 1.2, 2.5);
    for (Vec3& p : pin.vertices)
      p.z = -11 - p.z;
    up = joined(up, pin);
  }
  const auto slope = [](double z, double y_rise) {
    return sheet({-14, 14}, {-14, 14}, 1, 1,
                 [=](double x, double y) { return z + 0.02 * x + y_rise * y; });
  };
  out.push_back({"pins of the pocket over one facet", down, slope(-12, 0.05)});
  out.push_back({"pins of the skin under one facet", slope(-10, -0.05), up});
  out.push_back({"waves across each other",
                 sheet({-15, 15}, {-15, 15}, 60, 60,
                       [](double x, double) { return -10 + 0.8 * std::cos(2 * x); }),
                 sheet({-14, 14}, {-14, 14}, 60, 60,
                       [](double, double y) { return -12.4 + 0.8 * std::cos(2 * y); })});
  return out;
}

} // namespace

TEST_CASE("a groove over a rib: the face above it closes although a side is nearer") {
  // Closed form: the apex is 1.02 under the rib's top; moved by 0.4 the wall is 0.62.
  const Pair p = groove_over_rib();
  const WallMeasurement m = measure(p);
  const Vec3 up{0, 0, 0.4};
  CHECK(truth(p, up) == Approx(0.62).epsilon(1e-6));
  CHECK(said(m, up) == Approx(0.62).epsilon(1e-6));
  CHECK(said_by_skin_alone(m, up) > 0.72); // what the skin's samples cannot know
}

TEST_CASE("what the pocket alone sees over one groove is one thin place, not many") {
  // The rib's top is even over the apex: 0.62 all along once it has moved, and all of one place.
  for (const double ceiling : {1.2, 2.0, 6.0}) {
    CAPTURE(ceiling);
    const WallMeasurement m = measure(groove_over_rib(), ceiling);
    std::vector<double> walls;
    for (const WallSample& s : m.skin.samples)
      walls.push_back(s.wall_mm + dot(s.n, {0, 0, 0.4}));
    const std::vector<ThinRegion> places = thin_regions(m.skin, walls, walls, 0.7);
    REQUIRE(places.size() == 1);
    CHECK(places[0].least_shown_mm == Approx(0.62).epsilon(1e-6));
  }
}

TEST_CASE("a narrow slot: its end closes although its sides are nearer") {
  // Closed form: 1.1 mm of wood above the blade, 0.7 when it moves up by 0.4.
  const Pair p = narrow_slot();
  const WallMeasurement m = measure(p);
  const Vec3 up{0, 0, 0.4};
  CHECK(truth(p, up) == Approx(0.7).epsilon(1e-6));
  CHECK(said(m, up) == Approx(0.7).epsilon(1e-6));
  CHECK(said_by_skin_alone(m, up) > 0.9);
}

TEST_CASE("ribs, grooves, slots and pins really moved are never thinner than told") {
  for (const Pair& p : shaped_pairs()) {
    const WallMeasurement m = measure(p);
    for (const double by : {0.05, 0.1, 0.2, 0.4})
      for (const Vec3 way : kWays) {
        INFO(p.name, ", ", by, " mm along ", way.x, " ", way.y, " ", way.z);
        CHECK(said(m, way * by) <= truth(p, way * by) + kTooThick_mm * std::max(1.0, by / 0.2));
      }
  }
}

TEST_CASE("the demo pieces really moved are never thinner than told") {
  const std::filesystem::path meshes = std::filesystem::path(LEASTWALL_SOURCE_DIR) / "meshes";
  const auto loaded = [&](const char* name) { return load_mesh(meshes / name, {}, {}).mesh; };
  const PocketFace face{0.0, true, ""};
  const auto cut = [&](const char* name) { return machined_surface(loaded(name), face).mesh; };
  const Pair gourd{"gourd", cut("gourd_pocket.stl"), cut("gourd_skin.stl")};
  const Pair leaf{"leaf", cut("leaf_back.ply"), cut("leaf_front.ply")};
  for (const Pair* p : {&gourd, &leaf}) {
    const WallMeasurement m = measure(*p);
    // What the pocket adds is little: a smooth wall is known from the skin.
    CHECK(m.skin.samples.size() - m.skin.first_pair < m.skin.samples.size() / 20);
    for (const double by : {0.05, 0.1, 0.2, 0.4})
      for (const Vec3 way : kWays) {
        INFO(p->name, ", ", by, " mm along ", way.x, " ", way.y, " ", way.z);
        CHECK(said(m, way * by) <= truth(*p, way * by) + kTooThick_mm * std::max(1.0, by / 0.2));
      }
  }
}

TEST_CASE(
    "rough surfaces at random, moved: never thinner than told, and the skin alone is not enough") {
  // Grids of random heights, drawn apart until the least wall is 0.75 mm.
  std::mt19937 random(11);
  const auto unit_draw = [&] { return static_cast<double>(random()) / 4294967296.0; };
  for (int round = 0; round < 24; ++round) {
    const int cells = 3 + round % 8;
    const double height = 0.3 + 3 * unit_draw();
    const auto rough = [&] {
      std::vector<double> h(static_cast<std::size_t>((cells + 1) * (cells + 1)));
      for (double& v : h)
        v = height * unit_draw();
      return sheet({-3, 3}, {-3, 3}, cells, cells, [h, cells](double x, double y) {
        const auto number = [cells](double v) { return std::lround((v + 3) / 6 * cells); };
        return h[static_cast<std::size_t>(number(y) * (cells + 1) + number(x))];
      });
    };
    Pair p{"rough", rough(), rough()};
    p.skin = moved(p.skin, {round % 2 == 0 ? 0.0 : 0.37, round % 2 == 0 ? 0.0 : 0.21, 0});
    double low = 0, high = 2 * height + 2;
    for (int i = 0; i < 30; ++i) {
      const double z = (low + high) / 2;
      (peers::mesh_distance(moved(p.pocket, {0, 0, z}), p.skin) > 0.75 ? high : low) = z;
    }
    p.pocket = moved(p.pocket, {0, 0, high});
    const WallMeasurement m = measure(p);
    for (const double by : {0.1, 0.2, 0.4})
      for (const Vec3 way : kWays) {
        INFO("round ", round, ", ", by, " mm along ", way.x, " ", way.y, " ", way.z);
        CHECK(said(m, way * by) <= truth(p, way * by) + kTooThick_mm * std::max(1.0, by / 0.2));
      }
  }
}
