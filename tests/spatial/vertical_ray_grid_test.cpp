// Vertical lines through meshes: parity and winding of closed bodies, exact hits on edges and
// corners.
#include "spatial/vertical_ray_grid.h"

#include "base/work_count.h"
#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

TEST_CASE("a closed body is crossed as often upwards as downwards, also through its corners") {
  // Lines through every corner and edge middle of a sphere; a watertight count never leaks.
  const TriMesh m = shapes::sphere({}, 10, 24, 12);
  const VerticalRayGrid columns(m);
  std::vector<Vec3> points;
  for (const Tri& t : m.triangles)
    for (std::size_t i = 0; i < 3; ++i) {
      points.push_back(m.vertices[t[i]]);
      points.push_back((m.vertices[t[i]] + m.vertices[t[(i + 1) % 3]]) * 0.5);
    }
  for (Vec3 p : points) {
    p.z = 0.0;
    const ColumnCounts c = columns.count(p);
    REQUIRE((c.below + c.above) % 2 == 0);
    p.z = 1000;
    REQUIRE(columns.count(p).signed_below == 0);
  }
}

TEST_CASE("winding of nested and shifted boxes by signed crossings") {
  const TriMesh m =
      shapes::joined(shapes::box({0, 0, 0}, {10, 10, 10}), shapes::box({2, 2, 2}, {8, 8, 8}));
  const VerticalRayGrid columns(m);
  CHECK(columns.count({1, 1, 5}).signed_below == 1);
  CHECK(columns.count({5, 5, 5}).signed_below == 2);
  CHECK(columns.count({5, 5, 9}).signed_below == 1);
  CHECK(columns.count({5, 5, 11}).signed_below == 0);
  CHECK(columns.count({-1, 5, 5}).below == 0);
  CHECK(*columns.lowest(5, 5) == 0);
  CHECK(*columns.highest(5, 5) == 10);
  CHECK_FALSE(columns.lowest(11, 5).has_value());
}

TEST_CASE("heights on a slope are those of the plane") {
  const TriMesh m =
      shapes::sheet({-5, 5}, {-5, 5}, 7, 3, [](double x, double y) { return 2 * x - y + 1; });
  const VerticalRayGrid columns(m);
  std::mt19937 random(2);
  std::uniform_real_distribution<double> in(-5, 5);
  for (int i = 0; i < 200; ++i) {
    const double x = in(random), y = in(random);
    REQUIRE(*columns.lowest(x, y) == doctest::Approx(2 * x - y + 1));
    REQUIRE(columns.count({x, y, 2 * x - y + 2}).below == 1);
    REQUIRE(columns.count({x, y, 2 * x - y}).above == 1);
  }
  // Corners and edge middles too: ties decide which facet answers, never the height.
  for (const Tri& t : m.triangles)
    for (std::size_t i = 0; i < 3; ++i)
      for (const Vec3 p : {m.vertices[t[i]], (m.vertices[t[i]] + m.vertices[t[(i + 1) % 3]]) * 0.5})
        if (const auto z = columns.lowest(p.x, p.y)) // some of the rim counts as outside
          REQUIRE(*z == doctest::Approx(p.z).epsilon(1e-12));
}

namespace {

/// What passes over and under p, facet by facet.
ColumnCounts counted_one_by_one(const TriMesh& m, Vec3 p) {
  ColumnCounts sum;
  for (const Tri& t : m.triangles) {
    TriMesh one;
    one.vertices = m.vertices;
    one.triangles = {t};
    const ColumnCounts c = VerticalRayGrid(one).count(p);
    sum.below += c.below;
    sum.above += c.above;
    sum.signed_below += c.signed_below;
  }
  return sum;
}

} // namespace

TEST_CASE("facets of very different size and long slanting ones are told apart, none twice") {
  std::mt19937 random(4);
  std::uniform_real_distribution<double> in(-50, 50);
  TriMesh stray = shapes::sphere({}, 30, 16, 8);
  stray.vertices[40] = {1e6, 3e5, 10};
  const TriMesh slanting = shapes::turned(
      shapes::sheet({-50, 50}, {-50, 50}, 1, 150, [](double x, double y) { return x + y; }), 37);
  TriMesh fan;
  fan.vertices.push_back({});
  for (int i = 0; i < 200; ++i)
    fan.vertices.push_back({50 * std::cos(0.0314159 * i), 50 * std::sin(0.0314159 * i), 1.0 * i});
  for (std::uint32_t i = 1; i < 200; ++i)
    fan.triangles.push_back({0, i, i + 1});
  for (const TriMesh& m : {stray, slanting, fan}) {
    const VerticalRayGrid columns(m);
    std::vector<Vec3> points;
    for (int i = 0; i < 60; ++i)
      points.push_back({in(random), in(random), in(random)});
    for (std::size_t i = 0; i < m.vertices.size(); i += 37)
      points.push_back(m.vertices[i] + Vec3{0, 0, 0.1});
    for (const Vec3& p : points) {
      const ColumnCounts got = columns.count(p), want = counted_one_by_one(m, p);
      REQUIRE(got.below == want.below);
      REQUIRE(got.above == want.above);
      REQUIRE(got.signed_below == want.signed_below);
    }
  }
}

TEST_CASE("one stray corner does not make every question meet every facet") {
  TriMesh m = shapes::sphere({}, 30, 200, 100);
  const auto steps = [](const TriMesh& mesh) {
    const VerticalRayGrid columns(mesh);
    const std::uint64_t before = steps_of_thread;
    for (int i = 0; i < 100; ++i)
      columns.count({0.29 * i, 0.1 * i, 0});
    return (steps_of_thread - before) / 100;
  };
  const std::uint64_t plain = steps(m);
  m.vertices[5000] = {1e6, 1e6, 1e6};
  const std::uint64_t stray = steps(m);
  CHECK(plain > 0);
  CHECK(plain < 100);
  CHECK(stray < 2000); // single precision hides 1 mm where 1 km is spanned; there are 40,000 facets
}

namespace {

/// Slivers all around, from the middle of a circle of 50 mm to its edge, 30 mm higher.
TriMesh fan_of(std::uint32_t slivers) {
  TriMesh fan;
  fan.vertices.push_back({});
  for (std::uint32_t i = 0; i < slivers; ++i) {
    const double turn = 6.283185307179586 * i / slivers;
    fan.vertices.push_back({50 * std::cos(turn), 50 * std::sin(turn), 30});
  }
  for (std::uint32_t i = 0; i < slivers; ++i)
    fan.triangles.push_back({0, i + 1, (i + 1) % slivers + 1});
  return fan;
}

} // namespace

TEST_CASE("every sliver of a fan is passed through once, whatever their number") {
  for (const std::uint32_t slivers : {400u, 401u, 402u, 403u}) { // leaves of four, full and not
    const TriMesh fan = fan_of(slivers);
    const VerticalRayGrid columns(fan);
    for (const Tri& t : fan.triangles) {
      const Vec3 on = (fan.vertices[t[0]] + fan.vertices[t[1]] + fan.vertices[t[2]]) / 3.0;
      REQUIRE(columns.count(on + Vec3{0, 0, 1}).below == 1);
      REQUIRE(columns.count(on - Vec3{0, 0, 1}).above == 1);
      REQUIRE(*columns.lowest(on.x, on.y) == doctest::Approx(on.z));
    }
  }
}

TEST_CASE("a line through a fan meets some of its slivers, not those of a whole ring") {
  // At 25 mm, 20,000 slivers are 0.008 mm wide: about ten boxes of four lie across one another.
  TriMesh fan = fan_of(20000);
  const auto steps = [&fan] {
    const VerticalRayGrid columns(fan);
    const std::uint64_t before = steps_of_thread;
    for (int i = 0; i < 1000; ++i)
      columns.count({25 * std::cos(0.00628 * i), 25 * std::sin(0.00628 * i), 0});
    return (steps_of_thread - before) / 1000;
  };
  CHECK(steps() < 100);
  // Under a lid that faces the other way, in plan right over them.
  const auto apex = static_cast<std::uint32_t>(fan.vertices.size());
  fan.vertices.push_back({0, 0, 30});
  for (std::size_t i = 0; i < 20000; ++i)
    fan.triangles.push_back({apex, fan.triangles[i][2], fan.triangles[i][1]});
  CHECK(steps() < 200);
}
