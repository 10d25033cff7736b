#include "budget/advice/resurface.h"

#include "budget/budget.h"
#include "budget/budget_support.h"
#include "causes/setup_support.h"

#include <doctest/doctest.h>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

const Footprint kBoard{{-100, -50}, {100, 50}};

/// Everything known but the bed.
Setup quiet_setup() {
  Setup s;
  s.board.footprint = kBoard;
  s.board.assumed_thickness_mm = s.board.measured_thickness_mm = 20;
  s.inner.touch_point = s.outer.touch_point = Point2{0, 0};
  s.bed.seating = Seating::pressed;
  s.bed.resurfacing.residual_mm = 0.02;
  return s;
}

std::vector<WallSample> floor_of(double wall_mm) {
  std::vector<WallSample> out;
  for (int x = -90; x <= 90; x += 10)
    out.push_back(flat_sample(x, 0, wall_mm));
  return out;
}

Budget judged(const Setup& s, double wall_mm, double limit_mm) {
  BudgetOptions options;
  options.limit_mm = limit_mm;
  options.with_allowed = false;
  options.trials = 2000;
  return compute_budget(s, floor_of(wall_mm), options, {});
}

bool has_notice(const ResurfaceRow& row, const char* code, const char* words = "") {
  for (const Notice& n : row.notices)
    if (n.code == code && n.text.find(words) != std::string::npos)
      return true;
  return false;
}

} // namespace

TEST_CASE("a bed of unknown shape that is too rough: advised, and no free change helps") {
  Setup s = quiet_setup();
  s.bed.flatness_mm = 0.2; // on each side up to +-0.2: 0.8 to 0.4 at worst
  const Budget b = judged(s, 0.8, 0.7);
  REQUIRE(b.verdict == Verdict::at_risk);
  REQUIRE(b.resurface);
  const ResurfaceRow& row = *b.resurface;
  CHECK(row.advised);
  CHECK(row.verdict_now == Verdict::at_risk);
  CHECK(row.verdict_after == Verdict::safe); // +-0.02 a side: never under 0.76
  CHECK_FALSE(row.verdict_free);
  CHECK(row.flatness_mm == 0.2);
  CHECK(row.depth_mm == Approx(0.3)); // highest minus lowest, and 0.1 more
  CHECK(row.passes == 1);             // of at most 0.5
  CHECK_FALSE(row.left.board_mm);
  CHECK(has_notice(row, "resurface-board", "measure"));
  CHECK(has_notice(row, "resurface-zero"));
  CHECK(has_notice(row, "resurface-dust"));
  bool listed = false;
  for (const AdviceRow& a : b.advice)
    listed = listed || (a.change.starts_with("Resurface") && a.verdict == Verdict::safe);
  CHECK(listed);
}

TEST_CASE("nothing is said of a bed of which nothing is known, and a safe piece needs nothing") {
  Setup s = quiet_setup();
  CHECK_FALSE(judged(s, 0.8, 0.7).resurface);
  s.bed.flatness_mm = 0.03;
  const Budget b = judged(s, 0.8, 0.7);
  REQUIRE(b.resurface);
  CHECK_FALSE(b.resurface->advised);
  CHECK(b.resurface->verdict_now == Verdict::safe);
}

TEST_CASE("a free change that does as much wins") {
  // A crown, touched at the low edge of the board: 0.15 mm on each side comes off the middle
  // (worst 0.80 - 0.30). Touching in the middle costs nothing and leaves no loss there.
  Setup s = quiet_setup();
  s.inner.touch_point = s.outer.touch_point = Point2{-100, 0};
  // One bit touches, before the part is cut there.
  s.inner.bit.zero = s.outer.bit.zero = BitZero::tool_setter;
  s.bed.readings =
      grid_of(120, 60, 25, 13, [](double x, double) { return 0.15 * (1 - x * x / 1e4); });
  const Budget b = judged(s, 0.8, 0.7);
  CHECK(b.least.expected_mm == Approx(0.5).epsilon(1e-6));
  REQUIRE(b.resurface);
  CHECK(b.resurface->verdict_now == Verdict::thin);
  CHECK(b.resurface->verdict_after == Verdict::safe);
  CHECK(b.resurface->verdict_free == Verdict::safe);
  CHECK_FALSE(b.resurface->advised);
  for (const AdviceRow& a : b.advice)
    CHECK_FALSE(a.change.starts_with("Resurface"));
}

TEST_CASE("surfacing between the sides hurts where a tilt would have cancelled") {
  // Tilt across the flip line, 0.2 mm over 200 mm, same point of the part touched on both sides:
  // 0.80 everywhere as it is. With side B on a flat bed side A's tilt stays: 0.70 to 0.90.
  Setup s = quiet_setup();
  s.bed.readings = grid_of(120, 60, 25, 13, [](double x, double) { return x / 1000; });
  s.inner.touch_off = {0.15, Knowledge::limits}; // so that it is at risk now
  const Budget b = judged(s, 0.8, 0.75);
  CHECK(b.least.expected_mm == Approx(0.8).epsilon(1e-9));
  REQUIRE(b.resurface);
  CHECK(b.resurface->verdict_now == Verdict::at_risk);
  REQUIRE(b.resurface->verdict_between);
  CHECK(*b.resurface->verdict_between == Verdict::thin);
  CHECK_FALSE(b.resurface->advised);
  CHECK(has_notice(*b.resurface, "resurface-between", "would be too thin"));
}

TEST_CASE("depth: over the board as it lies on side A and turned over on side B") {
  // A plane that rises 1 mm per m in x. The board from x 0 to 100 turned about x = 0 covers -100 to
  // 100: 0.2 mm. Turned about x = 50 it covers the same place again: 0.1 mm.
  Setup s = quiet_setup();
  s.board.footprint = Footprint{{0, -50}, {100, 50}};
  s.bed.readings = grid_of(150, 60, 31, 13, [](double x, double) { return x / 1000; });
  CHECK(flatness_under_board(s) == Approx(0.2).epsilon(1e-9));
  s.flip.at_mm = 50;
  CHECK(flatness_under_board(s) == Approx(0.1).epsilon(1e-9));
  s.bed.part_origin_mm = {7, 0}; // the same slope elsewhere
  CHECK(flatness_under_board(s) == Approx(0.1).epsilon(1e-9));
  // Off the grid of readings the rim decides: a single high reading just outside is not under it.
  s.bed.part_origin_mm = {0, 0};
  s.bed.readings = grid_of(150, 60, 4, 3, [](double x, double) { return x > 149 ? 1.0 : 0.0; });
  CHECK(flatness_under_board(s) == Approx(0.5).epsilon(1e-9)); // x = 100 is half way from 50 to 150
}

TEST_CASE("spoilboard, screws and dowel holes can forbid it") {
  Setup s = quiet_setup();
  s.bed.flatness_mm = 0.2; // 0.3 mm to take
  s.bed.resurfacing.spoilboard_mm = 12.2;
  s.bed.resurfacing.spoilboard_least_mm = 11.8;
  s.bed.resurfacing.screw_depth_mm = 4;
  s.bed.resurfacing.dowel_hole_mm = 10;
  s.bed.resurfacing.dowel_hole_least_mm = 8;
  s.bed.resurfacing.depth_per_pass_mm = 0.1;
  s.bed.resurfacing.cutter_mm = 20;
  Budget b = judged(s, 0.8, 0.7);
  REQUIRE(b.resurface);
  CHECK(b.resurface->advised);
  CHECK(b.resurface->passes == 3);
  CHECK(*b.resurface->left.board_mm == Approx(11.9));
  CHECK(*b.resurface->left.dowel_holes_mm == Approx(9.7));
  CHECK(*b.resurface->left.screws_mm == Approx(3.7));
  CHECK(b.resurface->area == Footprint{{-110, -60}, {110, 60}}); // half a cutter more all round

  const auto refused = [&](auto&& change, const char* code) {
    Setup other = s;
    change(other.bed.resurfacing);
    const Budget result = judged(other, 0.8, 0.7);
    REQUIRE(result.resurface);
    CHECK_FALSE(result.resurface->advised);
    CHECK_FALSE(result.resurface->possible);
    CHECK(has_notice(*result.resurface, code));
    for (const AdviceRow& a : result.advice)
      CHECK_FALSE(a.change.starts_with("Resurface"));
  };
  refused([](Resurfacing& r) { r.spoilboard_least_mm = 12; }, "resurface-board");
  refused([](Resurfacing& r) { r.screw_depth_mm = 0.3; }, "resurface-screws");
  refused([](Resurfacing& r) { r.dowel_hole_least_mm = 9.8; }, "resurface-dowels");
}
