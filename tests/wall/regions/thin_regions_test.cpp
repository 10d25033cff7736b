// Thin regions of maps whose areas can be worked by hand.
#include "wall/regions/thin_regions.h"

#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using doctest::Approx;

namespace {

/// A sheet as a map; the wall at x, y is given.
WallMap map_of(int nx, int ny, const std::function<double(double, double)>& wall) {
  const TriMesh m = shapes::sheet({0, 100}, {0, 50}, nx, ny, [](double, double) { return 0.0; });
  WallMap map;
  map.cells = m.triangles;
  for (const Vec3& v : m.vertices)
    map.samples.push_back({v, {0, 0, -1}, wall(v.x, v.y)});
  return map;
}

std::vector<double> walls(const WallMap& map) {
  std::vector<double> w;
  for (const WallSample& s : map.samples)
    w.push_back(s.wall_mm);
  return w;
}

} // namespace

TEST_CASE("a slope: the area under the limit is the strip before it, exactly") {
  // wall = x / 50: under 0.8 for x < 40: 40 x 50 mm2.
  const WallMap map = map_of(7, 3, [](double x, double) { return x / 50; });
  const auto w = walls(map);
  CHECK(area_under(map, w, 0.8) == Approx(2000));
  const auto regions = thin_regions(map, w, w, 0.8);
  REQUIRE(regions.size() == 1);
  CHECK(regions[0].area_mm2 == Approx(2000));
  CHECK(regions[0].least_shown_mm == 0);
}

TEST_CASE("two hollows are two regions, thinnest first, and a ridge between joins them when low") {
  const auto hollows = [](double ridge) {
    return map_of(100, 50, [ridge](double x, double) {
      return std::abs(x - 50) < 5 ? ridge : x < 50 ? 0.6 : 0.5;
    });
  };
  const WallMap apart = hollows(0.9);
  const auto w = walls(apart);
  const auto regions = thin_regions(apart, w, w, 0.8);
  REQUIRE(regions.size() == 2);
  CHECK(regions[0].least_shown_mm == 0.5);
  CHECK(regions[1].least_shown_mm == 0.6);
  CHECK(apart.samples[regions[0].thinnest].at.x > 50);
  const WallMap joined = hollows(0.61);
  const auto j = walls(joined);
  CHECK(thin_regions(joined, j, j, 0.8).size() == 1);
}

TEST_CASE("judged by the worst case, shown as expected") {
  const WallMap map = map_of(10, 5, [](double, double) { return 0.9; });
  const auto expected = walls(map);
  std::vector<double> worst(expected.size(), 0.7);
  const auto regions = thin_regions(map, worst, expected, 0.8);
  REQUIRE(regions.size() == 1);
  CHECK(regions[0].least_judged_mm == 0.7);
  CHECK(regions[0].least_shown_mm == 0.9);
  CHECK(regions[0].area_mm2 == Approx(5000));
  CHECK(regions[0].area_shown_mm2 == 0);
}

TEST_CASE("a spot between thick corners is a region of its own, without area to speak of") {
  WallMap map = map_of(2, 2, [](double, double) { return 3.0; });
  map.minima.push_back({static_cast<std::uint32_t>(map.samples.size()), 3});
  map.samples.push_back({{60, 20, 0}, {0, 0, -1}, 0.4});
  const auto w = walls(map);
  const auto regions = thin_regions(map, w, w, 0.8);
  REQUIRE(regions.size() == 1);
  CHECK(regions[0].least_shown_mm == 0.4);
  CHECK(regions[0].area_mm2 == 0);
}
