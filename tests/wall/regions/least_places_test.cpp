// Several least places in what is connected under the limit. Walls are given by formulas, so the
// dips and the saddles between them are known (plain geometry).
#include "wall/regions/least_places.h"

#include "support/shapes.h"
#include "wall/regions/thin_regions.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using doctest::Approx;

namespace {

/// A strip 240 x 20 mm in cells of 1 mm.
template <class Wall> WallMap strip(const Wall& wall) {
  const TriMesh m = shapes::sheet({0, 240}, {0, 20}, 240, 20, [](double, double) { return 0.0; });
  WallMap map;
  map.cells = m.triangles;
  for (const Vec3& v : m.vertices)
    map.samples.push_back({v, {0, 0, -1}, wall(v.x, v.y)});
  return map;
}

std::vector<ThinRegion> places(const WallMap& map, double limit_mm = 0.8) {
  std::vector<double> walls;
  for (const WallSample& s : map.samples)
    walls.push_back(s.wall_mm);
  return thin_regions(map, walls, walls, limit_mm);
}

/// Depth below 0.7 of a dip 30 mm wide.
double dip(double x, double at, double depth) {
  const double r = std::abs(x - at) / 15;
  return r < 1 ? depth * (1 - r) : 0;
}

} // namespace

TEST_CASE("two dips 120 mm apart in one strip get a number each, and share its area") {
  const WallMap map =
      strip([](double x, double) { return 0.7 - dip(x, 60, 0.15) - dip(x, 180, 0.13); });
  const auto rows = places(map);
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].least_shown_mm == Approx(0.55));
  CHECK(map.samples[rows[0].thinnest].at.x == Approx(60));
  CHECK(rows[1].least_shown_mm == Approx(0.57));
  CHECK(map.samples[rows[1].thinnest].at.x == Approx(180));
  CHECK(rows[0].area_mm2 + rows[1].area_mm2 == Approx(240 * 20));
  CHECK(rows[1].area_mm2 > 20 * 30);
}

TEST_CASE("close by, a dip is clear where it is a quarter as deep as the whole place") {
  // Dips of 0.6 and 0.62, 12 mm apart, limit 0.8: a quarter of 0.2 is 0.05.
  const auto at_saddle = [](double saddle) {
    return strip([saddle](double x, double) {
      const double d = std::min(std::abs(x - 100), std::abs(x - 112));
      if (x < 92 || x > 120)
        return 0.9;
      return d < 1 ? (x < 106 ? 0.6 : 0.62) : saddle;
    });
  };
  CHECK(places(at_saddle(0.665)).size() == 1);
  CHECK(places(at_saddle(0.675)).size() == 2);
}

TEST_CASE("the deepest of many dips are told, and what is connected stays whole in area") {
  const WallMap map = strip([](double x, double) { return 0.6 + 0.1 * std::cos(x * 0.5236); });
  const auto rows = places(map); // twenty dips of 0.5
  CHECK(rows.size() == 9);
  double area = 0;
  for (const ThinRegion& r : rows)
    area += r.area_mm2;
  CHECK(area == Approx(240 * 20));
}

TEST_CASE("a rough surface does not come apart into noise") {
  // A valley 0.2 deep with bumps of +-0.015 at every corner, and twice as rough: a few places at
  // most, far apart, whatever the draw.
  for (unsigned seed = 1; seed <= 8; ++seed)
    for (const double rough : {0.015, 0.03}) {
      std::mt19937 random(seed);
      const WallMap map = strip([&](double x, double) {
        const double u = static_cast<double>(random()) / 4294967296.0;
        return 0.5 + 0.2 * std::abs(x - 120) / 120 + rough * (2 * u - 1);
      });
      const auto rows = places(map);
      INFO(seed, ", ", rough);
      CHECK(rows.size() <= (rough < 0.02 ? 4 : 6));
      for (std::size_t i = 0; i < rows.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
          CHECK(distance(map.samples[rows[i].thinnest].at, map.samples[rows[k].thinnest].at) > 15);
    }
}

TEST_CASE("places by brute force: every sample goes downhill to a place, and the order of samples "
          "does not matter") {
  std::mt19937 random(3);
  const WallMap map = strip([&](double x, double y) {
    return 0.6 + 0.15 * std::sin(x / 9) * std::cos(y / 5) +
           0.01 * static_cast<double>(random()) / 4294967296.0;
  });
  std::vector<double> walls;
  for (const WallSample& s : map.samples)
    walls.push_back(s.wall_mm);
  const std::vector<std::uint32_t> place = least_places(map, walls, walls, 0.7);
  for (std::uint32_t i = 0; i < place.size(); ++i) {
    CHECK((place[i] == kNoPlace) == (walls[i] >= 0.7));
    if (place[i] != kNoPlace) {
      CHECK(walls[place[i]] <= walls[i]);
      CHECK(place[place[i]] == place[i]);
    }
  }
  // The same map with its samples in another order.
  const auto n = static_cast<std::uint32_t>(map.samples.size());
  std::vector<std::uint32_t> to(n);
  for (std::uint32_t i = 0; i < n; ++i)
    to[i] = i;
  std::shuffle(to.begin(), to.end(), random);
  WallMap other = map;
  std::vector<double> other_walls(n);
  for (std::uint32_t i = 0; i < n; ++i) {
    other.samples[to[i]] = map.samples[i];
    other_walls[to[i]] = walls[i];
  }
  for (Tri& t : other.cells)
    for (std::uint32_t& v : t)
      v = to[v];
  const std::vector<std::uint32_t> again = least_places(other, other_walls, other_walls, 0.7);
  for (std::uint32_t i = 0; i < n; ++i)
    CHECK(again[to[i]] == (place[i] == kNoPlace ? kNoPlace : to[place[i]]));
}
