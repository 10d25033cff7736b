// Outlines and thin edges of a flat piece whose lines are known: a square, and circles in it.
#include "report/sheet/sheet_lines.h"

#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using doctest::Approx;

namespace {

/// 60 by 40 mm about (5, 0), a place every half millimetre.
WallMap flat_piece() {
  const TriMesh m =
      shapes::sheet({-25, 35}, {-20, 20}, 120, 80, [](double, double) { return -5.0; });
  WallMap map;
  for (const Vec3 p : m.vertices)
    map.samples.push_back({p, {0, 0, -1}, 1});
  map.cells = m.triangles;
  return map;
}

} // namespace

TEST_CASE("outlines run along the edges, thin edges where the worst wall passes the limit") {
  const WallMap map = flat_piece();
  std::vector<double> worst; // grows by 0.1 mm a mm from (10, 4): under 0.8 mm within 8 mm of it
  for (const WallSample& s : map.samples)
    worst.push_back(0.1 * std::hypot(s.at.x - 10, s.at.y - 4));
  const SheetLines lines = sheet_lines(map, worst, 0.8);
  REQUIRE(lines.thin.size() == 1);
  CHECK(lines.thin[0].size() > 100);
  for (const Point2& p : lines.thin[0])
    CHECK(std::hypot(p.x - 10, p.y - 4) == Approx(8).epsilon(0.04)); // a pixel is 0.2 mm
  REQUIRE(lines.outlines.size() == 1);
  double left = 1e9, right = -1e9, low = 1e9, high = -1e9;
  for (const Point2& p : lines.outlines[0]) {
    left = std::min(left, p.x), right = std::max(right, p.x);
    low = std::min(low, p.y), high = std::max(high, p.y);
    // Every point lies on one of the four edges, but for the rounded corners.
    const double off =
        std::min({std::abs(p.x + 25), std::abs(p.x - 35), std::abs(p.y + 20), std::abs(p.y - 20)});
    CHECK(off < 0.35);
  }
  CHECK(left == Approx(-25).epsilon(0.015));
  CHECK(right == Approx(35).epsilon(0.015));
  CHECK(low == Approx(-20).epsilon(0.015));
  CHECK(high == Approx(20).epsilon(0.015));
}

TEST_CASE("without worst walls there are no thin edges, without a skin no lines") {
  const WallMap map = flat_piece();
  const SheetLines lines = sheet_lines(map, {}, 0.8);
  CHECK(lines.thin.empty());
  CHECK(lines.outlines.size() == 1);
  const SheetLines none = sheet_lines(WallMap(), {}, 0.8);
  CHECK(none.thin.empty());
  CHECK(none.outlines.empty());
}

TEST_CASE("side B sees a line mirrored about the flip line") {
  Flip flip;
  flip.line = FlipLine::along_y;
  flip.at_mm = 3;
  const std::vector<Point2> line{{1, 2}, {4, -5}};
  const std::vector<Point2> a = line_on(flip, Side::a, line), b = line_on(flip, Side::b, line);
  REQUIRE(a.size() == 2);
  REQUIRE(b.size() == 2);
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(a[i].x == line[i].x);
    CHECK(a[i].y == line[i].y);
    CHECK(b[i].x == Approx(6 - line[i].x));
    CHECK(b[i].y == line[i].y);
  }
}
