// A stiff board that rocks: the wall, what the report says, and what pressing it flat gains.
#include "budget/budget_support.h"

#include "bed/bed_map.h"
#include "budget/budget.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <iterator>
#include <memory>
#include <optional>
#include <string>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

// Corners 0 / 0.2 / 0.2 / 0 under a board of 120 x 80, the flip line in its middle along y.
Setup two_high_corners() {
  Setup s;
  s.board.footprint = Footprint{{-60, -40}, {60, 40}};
  s.bed.readings = std::make_shared<const BedMap>(BedMap::scattered(
      std::vector<Vec3>{{-60, -40, 0}, {60, -40, 0.2}, {-60, 40, 0.2}, {60, 40, 0}, {0, 0, 0}}));
  s.bed.seating = Seating::rigid;
  s.inner.zero = ZeroFrom::bed;
  s.inner.touch_point = Point2{-60, -40}; // the bed there: 0
  s.outer.touch_point = Point2{-50, 30};
  for (SideSetup* side : {&s.inner, &s.outer})
    side->touch_off = {0.01, Knowledge::limits};
  return s;
}

const std::vector<WallSample> kTwo{flat_sample(52, 28, 1), flat_sample(-52, -32, 1)};

Budget budget_of(const Setup& s, double limit, std::optional<WitnessPad> pad = {}) {
  BudgetOptions options;
  options.limit_mm = limit;
  options.trials = 2000;
  options.pad = pad;
  return compute_budget(s, kTwo, options, {});
}

std::vector<Notice> rocks(const Budget& b) {
  std::vector<Notice> found;
  std::copy_if(b.warnings.begin(), b.warnings.end(), std::back_inserter(found),
               [](const Notice& n) { return n.code == "board-rocks"; });
  return found;
}

} // namespace

TEST_CASE("a rocking board: each side tipped the way that leaves least wall, by hand") {
  // Planes 0.2 +- 0.1 (x / 60 + y / 40). Side A, bed zero at 0: at (52, 28) the board is up to
  // 0.2 + 0.1 (52 / 60 + 28 / 40) = 0.35667 high. Side B, zero on top, turned over x = 0: touched
  // at bed (50, 30), cut at (-52, 28): the touch is lower by up to 0.1 (102 / 60 + 2 / 40) = 0.175.
  // At (-52, -32), bed (52, -32) on side B: A 0.2 + 0.1 (52 / 60 + 32 / 40) = 0.36667,
  // B 0.1 |50 / 60 + 30 / 40 - 52 / 60 + 32 / 40| = 0.15167.
  const Budget b = budget_of(two_high_corners(), 0.6);
  CHECK(b.expected_mm[0] == Approx(1 - 0.356666667 - 0.175));
  CHECK(b.expected_mm[1] == Approx(1 - 0.366666667 - 0.151666667));
  CHECK(b.verdict == Verdict::thin);
  // Tipped the other way on side B alone it would be 1 - 0.35667 + 0.175: no one may count on that.
}

TEST_CASE("a rocking board is told for each side with its places and what pressing it flat gains") {
  for (const double limit : {0.3, 0.6}) { // safe, where no advice is given, and not
    const Budget b = budget_of(two_high_corners(), limit);
    Setup pressed = two_high_corners();
    pressed.bed.seating = Seating::pressed;
    const Budget flat = budget_of(pressed, limit);
    CHECK(rocks(flat).empty());
    const std::string gain = fmt::format("{:+.2f} mm", flat.guaranteed_mm - b.guaranteed_mm);
    const std::vector<Notice> told = rocks(b);
    REQUIRE(told.size() == 2);
    CHECK(told[0].text.find("side A") != std::string::npos);
    CHECK(told[1].text.find("side B") != std::string::npos);
    CHECK(told[0].about == NoticeAbout::side_a); // each on its own page of the sheet
    CHECK(told[1].about == NoticeAbout::side_b);
    for (const Notice& n : told) {
      CHECK(n.text.find("x 60.0 y -40.0") != std::string::npos);
      CHECK(n.text.find("x -60.0 y 40.0") != std::string::npos);
      CHECK(n.text.find("press it flat: " + gain) != std::string::npos);
    }
    const auto row = std::find_if(b.advice.begin(), b.advice.end(), [](const AdviceRow& r) {
      return r.change.find("Press the board flat") != std::string::npos;
    });
    CHECK((row != b.advice.end()) == (limit > 0.5));
    if (row != b.advice.end())
      CHECK(row->gain_mm == Approx(flat.guaranteed_mm - b.guaranteed_mm).epsilon(1e-12));
  }
}

TEST_CASE("a board that lies on three points does not rock") {
  Setup s = two_high_corners();
  s.bed.readings = std::make_shared<const BedMap>(BedMap::scattered(
      std::vector<Vec3>{{-60, -40, 0}, {60, -40, 0.2}, {-60, 40, 0.1}, {60, 40, 0}, {0, 10, 0.2}}));
  CHECK(rocks(budget_of(s, 0.6)).empty());
}

TEST_CASE("witness pad on a rocking board: it was cut with the board lying as under the wall") {
  // Pad at (-52, -32), wall at (52, 28): on side A one goes up as the other goes down. After the
  // shift that the pad shows the wall is, side by side, the least over both tilts of the
  // difference: A -+0.1 ((52 + 52) / 60 + (28 + 32) / 40) = -0.32333, B the touch cancels: bed
  // (-52, 28) against (52, -32): -0.1 |-104 / 60 + 60 / 40| = -0.02333.
  Setup s = two_high_corners();
  s.inner.touch_off = s.outer.touch_off = {};
  WitnessPad pad;
  pad.at = Point2{-52, -32};
  pad.reading_error = {};
  const Budget b = budget_of(s, 0.6, pad);
  REQUIRE(b.pad);
  CHECK(b.pad->guaranteed_mm == Approx(1 - 0.323333333 - 0.023333333));
  // It may read anything from the thinnest to the thickest way of either side.
  CHECK(b.pad->low_mm == Approx(1 - 0.366666667 - 0.151666667));
  CHECK(b.pad->high_mm == Approx(1 - 0.2 + 0.166666667 + 0.151666667));
}
