// Room on the board against CGAL's polygons, and rectangles in closed form.
#include "parts/board_room.h"

#include "parts/outline_gap.h"
#include "peers/reference_library.h"
#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <random>

using namespace leastwall;
using doctest::Approx;

namespace {

/// A star with n tips, as wide inside as `waist` of its radius, and a body 10 mm deep on it.
std::vector<Point2> star(int tips, double radius, double waist) {
  std::vector<Point2> out;
  for (int i = 0; i < 2 * tips; ++i) {
    const double r = i % 2 == 0 ? radius : waist * radius, a = std::numbers::pi * i / tips;
    out.push_back({r * std::cos(a), r * std::sin(a)});
  }
  return out;
}

TriMesh body(const std::vector<Point2>& outline) {
  TriMesh out;
  const auto n = static_cast<std::uint32_t>(outline.size());
  for (const double z : {-10.0, 0.0})
    for (const Point2 p : outline)
      out.vertices.push_back({p.x, p.y, z});
  out.vertices.push_back({0, 0, -10});
  out.vertices.push_back({0, 0, 0});
  for (std::uint32_t i = 0; i < n; ++i) {
    const std::uint32_t j = (i + 1) % n;
    out.triangles.push_back({2 * n, j, i});
    out.triangles.push_back({2 * n + 1, n + i, n + j});
    out.triangles.push_back({i, j, n + j});
    out.triangles.push_back({i, n + j, n + i});
  }
  return out;
}

std::vector<Point2> on(const OnBoard& placing, const std::vector<Point2>& outline) {
  std::vector<Point2> out;
  for (const Point2 p : outline) {
    const Vec3 v = placing.place(Vec3{p.x, p.y, 0});
    out.push_back({v.x, v.y});
  }
  return out;
}

const BoardRow::Gap* gap_to(const BoardRow& row, BoardRow::GapTo to) {
  for (const BoardRow::Gap& gap : row.gaps)
    if (gap.to == to)
      return &gap;
  return nullptr;
}

} // namespace

// Source: CGAL 5.5, Polygon_2 and squared_distance of segments, exact predicates.
TEST_CASE("gaps between parts that lie any way on the board agree with CGAL's polygons") {
  std::mt19937 draw(5);
  std::uniform_real_distribution<double> any(-1, 1);
  int apart = 0, over = 0;
  for (int pair = 0; pair < 60; ++pair) {
    const std::vector<Point2> a = star(5, 30, 0.4), b = star(3 + pair % 4, 20, 0.5);
    const OnBoard at_a({pair % 2 == 0, 180 * any(draw), {0, 0}});
    const OnBoard at_b({pair % 3 == 0, 180 * any(draw), {45 * any(draw), 45 * any(draw)}});
    const double expected = peers::polygon_gap(on(at_a, a), on(at_b, b));
    const TriMesh flat_a = seen_from_above(body(a), at_a);
    const double gap = flat_gap(ClosestSurface(flat_a), seen_from_above(body(b), at_b), 100);
    CHECK(gap == Approx(expected).epsilon(1e-9));
    (expected > 0 ? apart : over) += 1;
  }
  CHECK(apart > 10);
  CHECK(over > 10);
}

TEST_CASE("parts on a board on a bed: to the edge, to one another, to the dowels, beyond the bed") {
  const TriMesh left = shapes::box({-40, -30, -20}, {40, 30, 0}), right = left;
  Setup setup;
  setup.board.footprint = Footprint{{-60, -100}, {60, 100}};
  setup.flip.dowels.emplace();
  setup.flip.dowels->spacing_mm = 180;
  setup.flip.dowels->middle = Point2{0, 0};
  const OnBoard at_left({false, 0, {0, 45}}), at_right({true, 0, {0, -45}});
  const std::array<PartOutline, 2> parts{
      PartOutline{"left", left, at_left, at_left.place(left.box())},
      PartOutline{"right", right, at_right, at_right.place(right.box())}};
  BoardRow row = room_on_board(parts, setup);
  CHECK(row.fits == true);
  CHECK(gap_to(row, BoardRow::GapTo::board_edge)->mm == Approx(20)); // 60 - 40
  CHECK(gap_to(row, BoardRow::GapTo::part)->mm == Approx(30));       // 90 - 2 * 30
  CHECK(gap_to(row, BoardRow::GapTo::flip_dowel)->mm == Approx(15)); // 90 - 75
  CHECK_FALSE(row.parts_off_bed_mm);
  CHECK_FALSE(row.board_off_bed_mm);

  // A bed that ends 50 mm from the middle: the board reaches 10 mm over it, the parts do not.
  // Turned about a line 15 mm off, side B lies up to 30 mm farther.
  setup.bed.extent = Footprint{{-50, -200}, {50, 200}};
  row = room_on_board(parts, setup);
  CHECK(row.board_off_bed_mm == Approx(10));
  CHECK(row.parts_off_bed_mm == Approx(0));
  setup.flip.at_mm = 15;
  row = room_on_board(parts, setup);
  CHECK(row.board_off_bed_mm == Approx(40));
  CHECK(row.parts_off_bed_mm == Approx(20));
  // Moved on the bed.
  setup.bed.part_origin_mm = {-30, 0};
  row = room_on_board(parts, setup);
  CHECK(row.board_off_bed_mm == Approx(40)); // side A: -90 against -50
  CHECK(row.parts_off_bed_mm == Approx(20));

  setup.board.footprint = Footprint{{-60, -70}, {60, 70}};
  row = room_on_board(parts, setup);
  CHECK(row.fits == false);
  setup.board.footprint.reset();
  row = room_on_board(parts, setup);
  CHECK_FALSE(row.fits);
  CHECK_FALSE(row.board_off_bed_mm);
  CHECK(gap_to(row, BoardRow::GapTo::board_edge) == nullptr);
  CHECK(gap_to(row, BoardRow::GapTo::part)->mm == Approx(30));
}
