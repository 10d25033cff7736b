// Vertical lines through meshes: parity and winding of closed bodies, exact hits on edges and
// corners.
#include "geometry/columns.h"

#include "support/shapes.h"

#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

TEST_CASE("a closed body is crossed as often upwards as downwards, also through its corners") {
  // Lines through every corner and edge middle of a sphere; a watertight count never leaks.
  const TriMesh m = shapes::sphere({}, 10, 24, 12);
  const Columns columns(m);
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
  const Columns columns(m);
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
  const Columns columns(m);
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
