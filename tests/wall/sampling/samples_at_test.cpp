// Samples at given places lie on the surface over them and are measured there.
#include "wall/sampling/samples_at.h"

#include "support/shapes.h"
#include "wall/sampling/refine.h"
#include "wall/sheet_probe.h"

#include <cmath>
#include <doctest/doctest.h>
#include <tbb/global_control.h>

using namespace leastwall;
using doctest::Approx;

namespace {

/// A skin of two leaning facets a pocket floor of any shape lies over.
WallMap with_samples(const std::vector<Point2>& places, double below_mm) {
  const TriMesh skin =
      shapes::sheet({-10, 10}, {-8, 8}, 1, 1, [](double x, double) { return -5 + 0.1 * x; });
  const TriMesh floor = shapes::sheet({-12, 12}, {-12, 12}, 40, 40, [](double x, double y) {
    return -3 + 0.3 * std::sin(x) * std::cos(y);
  });
  const SheetProbe asked(floor);
  RefineOptions options;
  options.fine_spacing_mm = options.coarse_spacing_mm = 3;
  WallMap map = refine(refine_start(skin, options, {}), asked.probe, options, {}).map;
  const std::size_t before = map.samples.size();
  add_samples_at(map, places, asked.probe, below_mm, std::nullopt, {});
  CHECK(map.minima.size() == map.samples.size() - before);
  for (const WallMap::Minimum& m : map.minima) {
    const WallSample& s = map.samples[m.sample];
    CHECK(m.sample >= before);
    CHECK(s.at.z == Approx(-5 + 0.1 * s.at.x));
    CHECK(s.wall_mm == Approx(asked.surface.nearest(s.at).distance).epsilon(1e-12));
    Box cell;
    for (const std::uint32_t v : map.cells[m.cell])
      cell.add(map.samples[v].at);
    CHECK(s.at.x >= cell.low.x - 1e-9);
    CHECK(s.at.x <= cell.high.x + 1e-9);
    CHECK(s.at.y >= cell.low.y - 1e-9);
    CHECK(s.at.y <= cell.high.y + 1e-9);
  }
  return map;
}

} // namespace

TEST_CASE("every place over the skin gets a sample, those beside it none") {
  std::vector<Point2> places;
  for (int i = 0; i < 30; ++i)
    places.push_back({-9.7 + 0.631 * i, 7.3 - 0.497 * i});
  const std::vector<Point2> beside{{10.5, 0}, {0, -8.2}, {-400, 3}, {1e9, 1e9}};
  places.insert(places.end(), beside.begin(), beside.end());
  const WallMap map = with_samples(places, 100);
  REQUIRE(map.minima.size() == 30);
  for (std::size_t i = 0; i < 30; ++i) {
    const bool found = std::any_of(map.minima.begin(), map.minima.end(), [&](const auto& m) {
      const Vec3 at = map.samples[m.sample].at;
      return std::abs(at.x - places[i].x) < 1e-9 && std::abs(at.y - places[i].y) < 1e-9;
    });
    CHECK(found);
  }
}

TEST_CASE("of many places over a long slanting cell those that lie over it get a sample") {
  // One needle from corner to corner: its box holds all places, the needle itself some.
  TriMesh needle;
  needle.vertices = {{-10, -10, -5}, {10, 9.7, -5}, {10, 10, -5}};
  needle.triangles = {{0, 1, 2}};
  const TriMesh floor =
      shapes::sheet({-12, 12}, {-12, 12}, 2, 2, [](double, double) { return 0.; });
  const SheetProbe asked(floor);
  RefineOptions options;
  options.fine_spacing_mm = options.coarse_spacing_mm = 100;
  WallMap map = refine(refine_start(needle, options, {}), asked.probe, options, {}).map;
  std::vector<Point2> places;
  std::size_t over = 0;
  for (int i = -60; i <= 60; ++i)
    for (int k = -60; k <= 60; ++k) {
      const Point2 p{0.17 * i, 0.17 * k + 0.001 * i};
      places.push_back(p);
      // Between y = x and the lower side, which rises 19.7 in 20.
      over += p.x <= 10 && p.y <= p.x && p.y >= -10 + 0.985 * (p.x + 10);
    }
  CHECK(over > 20);
  add_samples_at(map, places, asked.probe, 100, std::nullopt, {});
  CHECK(map.minima.size() == over);
}

TEST_CASE("thick places get no sample, and no place none; threads do not matter") {
  CHECK(with_samples({{0, 0.5}, {3, 1}}, 0.5).minima.empty());
  CHECK(with_samples({}, 100).minima.empty());
  std::vector<Point2> places;
  for (int i = 0; i < 2000; ++i)
    places.push_back({-9.9 + 0.0097 * i, 7.7 * std::sin(i)});
  const WallMap many = with_samples(places, 100);
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  const WallMap alone = with_samples(places, 100);
  REQUIRE(alone.samples.size() == many.samples.size());
  for (std::size_t i = 0; i < many.samples.size(); ++i)
    REQUIRE(alone.samples[i].at == many.samples[i].at);
}
