// How far up walls are known exactly.
#include "peers/reference_library.h"
#include "support/shapes.h"
#include "wall/measure_wall.h"
#include "wall/sampling/flat_wall.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

WallMeasurement measure(const TriMesh& pocket, const TriMesh& skin, double ceiling_mm,
                        std::optional<double> above_least_mm) {
  MeasureOptions options;
  options.ceiling_mm = ceiling_mm;
  options.above_least_mm = above_least_mm;
  options.pocket_map = false;
  return measure_wall(pocket, skin, options, RunContext{});
}

/// The longer of the two edges that meet in the thinnest corner: these decide what is fine.
double width_of(const WallMap& map, const Tri& t) {
  std::size_t thinnest = 0;
  for (std::size_t i = 1; i < 3; ++i)
    if (map.samples[t[i]].wall_mm < map.samples[t[thinnest]].wall_mm)
      thinnest = i;
  const Vec3 at = map.samples[t[thinnest]].at;
  return std::max(distance(at, map.samples[t[(thinnest + 1) % 3]].at),
                  distance(at, map.samples[t[(thinnest + 2) % 3]].at));
}

} // namespace

TEST_CASE("what is not measured finely is as thick as the measurement or its corners say") {
  // CGAL's distances at random points of every cell that is wider than the fine spacing.
  std::mt19937 random(5);
  const auto draw = [&] { return static_cast<double>(random()) / 4294967296.0; };
  for (int round = 0; round < 4; ++round) {
    const double a = 1 + draw(), b = 1 + draw(), gap = 1.2 + 2 * draw();
    const TriMesh pocket = sheet({-30, 30}, {-20, 20}, 12, 9, [&](double x, double y) {
      return -10 + 1.5 * std::sin(a * x / 4) + std::cos(b * y / 3);
    });
    const TriMesh skin = sheet({-29, 29}, {-19, 19}, 11, 8, [&](double x, double y) {
      return -13.5 - gap + 1.5 * std::cos(b * x / 5) + std::sin(a * y / 4);
    });
    const WallMeasurement m = measure(pocket, skin, 0.5, 0.6);
    CHECK(m.measured_to_mm == Approx(std::max(0.5, m.least.wall_mm + 0.6)));
    const peers::PointDistance truth(pocket);
    std::size_t wide = 0;
    for (const Tri& t : m.skin.cells) {
      if (width_of(m.skin, t) <= m.fine_spacing_mm)
        continue;
      ++wide;
      const double u = draw(), v = (1 - u) * draw();
      const Vec3 p = m.skin.samples[t[0]].at * (1 - u - v) + m.skin.samples[t[1]].at * u +
                     m.skin.samples[t[2]].at * v;
      const double told = m.skin.samples[t[0]].wall_mm * (1 - u - v) +
                          m.skin.samples[t[1]].wall_mm * u + m.skin.samples[t[2]].wall_mm * v;
      REQUIRE((truth(p) >= m.measured_to_mm - 1e-9 || std::abs(truth(p) - told) < kFlatWall_mm));
    }
    CHECK(wide > 100);
  }
}

TEST_CASE("the finer look about the least wall does not depend on the limit") {
  // A pin 0.9 mm over the middle of one facet; plain geometry: every place of the skin at distance
  // r from below the tip has a wall of sqrt(0.81 + r^2), as long as the tip is nearest.
  const TriMesh pocket = spike({0.3, -0.2, -9.1}, 1, -4);
  const TriMesh skin = sheet({-30, 30}, {-30, 30}, 1, 1, [](double, double) { return -10.0; });
  for (const double ceiling : {0.1, 0.3, 0.9, 1.5}) {
    const WallMeasurement m = measure(pocket, skin, ceiling, 0.5);
    CHECK(m.measured_to_mm == Approx(std::max(ceiling, 1.4)));
    std::size_t near = 0;
    for (const WallSample& s : m.skin.own_samples())
      if (s.wall_mm < 1.4) {
        ++near;
        REQUIRE(s.wall_mm == Approx(std::hypot(0.9, s.at.x - 0.3, s.at.y + 0.2)).epsilon(1e-9));
      }
    CHECK(near > 50);
  }
}

TEST_CASE("thick all over: the finer look stays small") {
  // Two plates 20 mm apart, one of many facets, one of two: spacing grows with the wall.
  for (const int cells : {1, 100}) {
    const auto plate = [&](double z) {
      return sheet({-100, 100}, {-100, 100}, cells, cells, [z](double, double) { return z; });
    };
    const WallMeasurement m = measure(plate(-10), plate(-30), 1.0, 0.5);
    CHECK(m.least.wall_mm == Approx(20));
    CHECK(m.measured_to_mm == Approx(20.5));
    CHECK(m.skin.samples.size() < 60000);
  }
}
