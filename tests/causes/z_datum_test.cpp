// The Z datum chain: thickness, bed and touch-off for the four zero pairs.
#include "causes/setup_support.h"

#include "base/assumption.h"
#include "base/errors.h"

#include <cmath>
#include <doctest/doctest.h>
#include <utility>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

const ZeroFrom kZeros[] = {ZeroFrom::top, ZeroFrom::bed};

// T 20, wall 0.80 at (50, 0); the bed is 0.10 higher there than at the touch points, both sides.
Setup worked_example(ZeroFrom a, ZeroFrom b, double tau) {
  Setup s;
  s.inner.zero = a;
  s.outer.zero = b;
  s.board.assumed_thickness_mm = 20;
  s.board.measured_thickness_mm = 20 + tau;
  s.board.footprint = Footprint{{-100, -100}, {100, 100}};
  // Even about the flip line x = 0, so that both sides see it alike.
  s.bed.readings =
      grid_of(100, 100, 9, 3, [](double x, double) { return std::abs(x) == 50 ? 0.1 : 0.0; });
  s.bed.seating = Seating::pressed;
  for (SideSetup* side : {&s.inner, &s.outer}) {
    side->touch_point = Point2{-100, 0};
    side->plate_error_mm = -0.05; // as a touch-off that believes the datum 0.05 too low
  }
  return s;
}

} // namespace

TEST_CASE("four zero pairs, worked: the numbers follow from the geometry by hand") {
  const double plus[] = {0.80, 0.50, 0.50, 0.20}, minus[] = {0.20, 0.50, 0.50, 0.80};
  const WallSample p = flat_point(50, 0, 19, 0.8);
  std::size_t i = 0;
  for (const ZeroFrom a : kZeros)
    for (const ZeroFrom b : kZeros) {
      CHECK(0.8 + known_change(worked_example(a, b, 0.3), p) == Approx(plus[i]).epsilon(1e-12));
      CHECK(0.8 + known_change(worked_example(a, b, -0.3), p) == Approx(minus[i]).epsilon(1e-12));
      ++i;
    }
}

TEST_CASE("what a uniform thickness error is worth: +1, 0, 0, -1") {
  const double expected[] = {1, 0, 0, -1};
  std::size_t i = 0;
  for (const ZeroFrom a : kZeros)
    for (const ZeroFrom b : kZeros) {
      Setup s;
      s.inner.zero = a;
      s.outer.zero = b;
      s.board.thickness_error = {0.2, Knowledge::limits};
      s.board.footprint = Footprint{{-1, -1}, {1, 1}};
      const auto causes =
          causes_with(s, CauseKind::board_as_read, CauseKind::board_against_program,
                      CauseKind::board_against_two_programs, CauseKind::board_thickness);
      REQUIRE(causes.size() == 1);
      CHECK(causes[0].sensitivity(flat_point(0, 0, 9, 1)) == Approx(expected[i++]));
      CHECK(causes[0].sensitivity({{0, 0, 0}, {1, 0, 0}, 1}) == Approx(0)); // upright wall
    }
}

TEST_CASE("a uniform lift under the board: cancels for top, counts for bed") {
  // Lift of 0.07 everywhere but at the touch points, where the bed is at 0.
  for (const ZeroFrom a : kZeros)
    for (const ZeroFrom b : kZeros) {
      Setup s = worked_example(a, b, 0);
      s.inner.plate_error_mm = s.outer.plate_error_mm = 0;
      // Zero on top: the touch point is lifted with the board.
      s.bed.readings = grid_of(100, 100, 9, 3,
                               [](double x, double) { return x == 100 || x == -100 ? 0.0 : 0.07; });
      if (a == ZeroFrom::top)
        s.inner.touch_point = Point2{25, 0};
      if (b == ZeroFrom::top)
        s.outer.touch_point = Point2{25, 0};
      const double sides = (a == ZeroFrom::bed ? 1 : 0) + (b == ZeroFrom::bed ? 1 : 0);
      CHECK(known_change(s, flat_point(50, 0, 19, 0.8)) == Approx(-0.07 * sides).epsilon(1e-12));
    }
}

TEST_CASE("programs made for different thicknesses: each is its own number") {
  // By hand, T_A 20.0, T_B 20.2, board 20.5:
  //   top/top: floor d below a face at 20.5, skin 20.2 - H below the other: wall + 20.5 - 20.2
  //   top/bed: + 0          bed/top: 20.0 - 20.2 = -0.2         bed/bed: 20.0 - 20.5 = -0.5
  const double expected[] = {0.3, 0, -0.2, -0.5};
  std::size_t i = 0;
  for (const ZeroFrom a : kZeros)
    for (const ZeroFrom b : kZeros) {
      Setup s;
      s.inner.zero = a;
      s.outer.zero = b;
      s.inner.assumed_thickness_mm = 20;
      s.outer.assumed_thickness_mm = 20.2;
      s.board.measured_thickness_mm = 20.5;
      s.board.footprint = Footprint{{-1, -1}, {1, 1}};
      CHECK(known_change(s, flat_point(0, 0, 19, 0.8)) == Approx(expected[i++]).epsilon(1e-12));
    }
}

TEST_CASE("a board that was not measured is board.thickness, whatever the programs were made for") {
  // By hand, board 20 (not measured), T_A 20.3, T_B 20.1: the table of programs made for different
  // thicknesses with t = 20. Each pair of programs beside it.
  //   top/top: t - T_B    top/bed: 0    bed/top: T_A - T_B    bed/bed: T_A - t
  const auto by_hand = [](ZeroFrom a, ZeroFrom b, double t, double t_a, double t_b) {
    if (a == ZeroFrom::top)
      return b == ZeroFrom::top ? t - t_b : 0.0;
    return b == ZeroFrom::top ? t_a - t_b : t_a - t;
  };
  using Program = std::optional<double>;
  const std::pair<Program, Program> programs[] = {
      {20.3, {}}, {{}, 20.3}, {20.3, 20.1}, {20.3, 20.3}, {{}, {}}};
  for (const ZeroFrom a : kZeros)
    for (const ZeroFrom b : kZeros)
      for (const auto& [t_a, t_b] : programs) {
        Setup s;
        s.inner.zero = a;
        s.outer.zero = b;
        s.inner.assumed_thickness_mm = t_a;
        s.outer.assumed_thickness_mm = t_b;
        s.board.assumed_thickness_mm = 20;
        s.board.thickness_error = {0.05, Knowledge::limits};
        s.board.footprint = Footprint{{-1, -1}, {1, 1}};
        CHECK(known_change(s, flat_point(0, 0, 19, 0.8)) ==
              Approx(by_hand(a, b, 20, t_a.value_or(20), t_b.value_or(20))).epsilon(1e-12));
        s.board.measured_thickness_mm = 20.07; // a measurement says otherwise
        CHECK(known_change(s, flat_point(0, 0, 19, 0.8)) ==
              Approx(by_hand(a, b, 20.07, t_a.value_or(20), t_b.value_or(20))).epsilon(1e-12));
      }
  // The limit case: zero on top twice, board 20 +- 0.05, wall drawn 1.0. A program of side A for
  // 20.3 plays no part with zero on top.
  Setup s;
  s.inner.assumed_thickness_mm = 20.3;
  s.board.assumed_thickness_mm = 20;
  s.board.footprint = Footprint{{-1, -1}, {1, 1}};
  CHECK(known_change(s, flat_point(0, 0, 19, 1)) == 0);
}

TEST_CASE("only two programs say how thick the board is: the one that leaves less wall") {
  Setup s;
  s.inner.assumed_thickness_mm = 20;
  s.outer.assumed_thickness_mm = 20.2;
  s.board.footprint = Footprint{{-1, -1}, {1, 1}};
  CHECK(known_change(s, flat_point(0, 0, 19, 0.8)) == Approx(-0.2)); // top/top: 20.0 - 20.2
  s.inner.zero = s.outer.zero = ZeroFrom::bed;
  CHECK(known_change(s, flat_point(0, 0, 19, 0.8)) == Approx(-0.2)); // bed/bed: 20.0 - 20.2
  std::vector<Assumption> assumptions;
  causes_of(s, assumptions);
  REQUIRE(assumptions.size() == 1);
  CHECK(assumptions[0].text.find("20.200 mm") != std::string::npos);
}

TEST_CASE("the land ends in the board's own face: by hand, for the four zero pairs") {
  // The board is 20.3 for programs made for 20. Skin 0.8 mm under the pocket face: with side B on
  // top it is cut 19.2 below the other face, at 1.1 under the pocket face; with B on the bed, on
  // which the pocket face lies, it stays 0.8. Whatever side A does: its plate is 0.05 too thick.
  for (const ZeroFrom a : kZeros)
    for (const ZeroFrom b : kZeros) {
      Setup s;
      s.inner.zero = a;
      s.outer.zero = b;
      s.inner.plate_error_mm = 0.05;
      s.board.assumed_thickness_mm = 20;
      s.board.measured_thickness_mm = 20.3;
      s.board.thickness_error = {0.2, Knowledge::limits};
      s.board.footprint = Footprint{{-100, -100}, {100, 100}};
      s.top_z_mm = 7;
      s.has_land = true;
      const WallSample land{{3, 4, 6.2}, {0, 0, -1}, 0.8};
      const double k_b = b == ZeroFrom::top;
      CHECK(known_change(s, land) == Approx(0.3 * k_b).epsilon(1e-12));
      CHECK(causes_with(s, CauseKind::board_as_read, CauseKind::board_against_program,
                        CauseKind::board_against_two_programs, CauseKind::board_thickness)
                .back()
                .sensitivity(land) == Approx(k_b));
      s.board.variation_mm = 0.1; // only where side B is touched
      double uneven = 0;
      for (const Cause& c : causes_with(s, CauseKind::board_at_touch, CauseKind::board_under_wall))
        uneven += std::abs(c.sensitivity(land)) * c.size;
      CHECK(uneven == Approx(0.1 * k_b).epsilon(1e-12));
      s.board.variation_mm = 0;
      s.outer.assumed_thickness_mm = 20.1; // the programs differ
      CHECK(known_change(s, land) == Approx(0.2 * k_b).epsilon(1e-12));
      s.board.thickness_readings =
          grid_of(100, 100, 5, 3, [](double x, double) { return 20.3 + 0.002 * x; });
      s.outer.touch_point = Point2{50, 0};
      CHECK(known_change(s, land) == Approx(0.3 * k_b).epsilon(1e-9)); // 20.4 against 20.1
      // A wall of the same thickness that ends lower, and any wall where there is no land.
      const WallSample floor{{3, 4, 5.2}, {0, 0, -1}, 0.8};
      CHECK(known_change(s, floor) != Approx(known_change(s, land)));
      const double before = known_change(s, floor);
      s.has_land = false;
      CHECK(known_change(s, floor) == Approx(before).epsilon(1e-12));
      CHECK(known_change(s, land) == Approx(before).epsilon(1e-12));
    }
}

TEST_CASE("a wedge is left over under every pair, snipe under the touch point shifts everything") {
  // Readings: tau = 0.002 x, touch points at x = -50 (A) and +50 (B).
  for (const ZeroFrom a : kZeros)
    for (const ZeroFrom b : kZeros) {
      Setup s;
      s.inner.zero = a;
      s.outer.zero = b;
      s.board.assumed_thickness_mm = 20;
      s.board.footprint = Footprint{{-100, -100}, {100, 100}};
      s.board.thickness_readings =
          grid_of(100, 100, 5, 3, [](double x, double) { return 20 + 0.002 * x; });
      s.inner.touch_point = Point2{-50, 0};
      s.outer.touch_point = Point2{50, 0};
      const double k_a = a == ZeroFrom::top, k_b = b == ZeroFrom::top;
      for (const double x : {-80.0, 0.0, 60.0})
        CHECK(known_change(s, flat_point(x, 10, 19, 0.8)) ==
              Approx(-0.1 * k_a + 0.1 * k_b - 0.002 * x).epsilon(1e-9));
      // Beyond the readings the board counts as thick as it ever is.
      CHECK(known_change(s, flat_point(150, 0, 19, 0.8)) ==
            Approx(-0.1 * k_a + 0.1 * k_b - 0.2).epsilon(1e-9));
    }
}

TEST_CASE("an uneven board without readings: each place that counts, once") {
  Setup s;
  s.board.variation_mm = 0.05;
  s.board.footprint = Footprint{{-100, -100}, {100, 100}};
  const WallSample p = flat_point(0, 0, 9, 1);
  const auto worst = [&] {
    double sum = 0;
    for (const Cause& c : causes_with(s, CauseKind::board_at_touch, CauseKind::board_under_wall))
      sum += std::abs(c.sensitivity(p)) * c.size;
    return sum;
  };
  CHECK(worst() == Approx(0.15)); // 2 v at the shared touch point, v under the wall
  s.outer.touch_point = Point2{5, 5};
  CHECK(causes_with(s, CauseKind::board_at_touch, CauseKind::board_under_wall).size() == 3);
  CHECK(worst() == Approx(0.15));
  s.inner.zero = ZeroFrom::bed;
  CHECK(worst() == Approx(0.10));
  s.outer.zero = ZeroFrom::bed;
  CHECK(worst() == Approx(0.05));
}

TEST_CASE("tilt and crown of one bed under both sides") {
  Setup s;
  s.board.footprint = Footprint{{-100, -100}, {100, 100}};
  s.bed.seating = Seating::pressed;
  const auto wall = [&](double x, double y) {
    return 0.8 + known_change(s, flat_point(x, y, 19, 0.8));
  };
  const auto touch = [&](Point2 a, Point2 b) {
    s.inner.touch_point = a;
    s.outer.touch_point = b;
  };
  // 0.2 mm over 200 mm across the flip line x = 0.
  s.bed.readings = grid_of(100, 100, 5, 5, [](double x, double) { return 0.001 * x; });
  touch({-95, 0}, {-95, 0}); // the same point of the part: mirrored bed places
  for (const double x : {-90.0, 0.0, 70.0})
    CHECK(wall(x, 30) == Approx(0.80).epsilon(1e-12));
  touch({-95, 0}, {95, 0}); // the same bed spot x = -95 both times
  CHECK(wall(20, 0) == Approx(0.61).epsilon(1e-12));
  // Along the line: doubles.
  s.bed.readings = grid_of(100, 100, 5, 5, [](double, double y) { return 0.001 * y; });
  touch({0, 0}, {0, 0});
  CHECK(wall(0, 100) == Approx(0.60).epsilon(1e-12));
  CHECK(wall(0, -100) == Approx(1.00).epsilon(1e-12));
  // The other flip line swaps the two.
  s.flip.line = FlipLine::along_x;
  CHECK(wall(0, 100) == Approx(0.80).epsilon(1e-12));
  s.flip.line = FlipLine::along_y;
  // Crown of 0.15, parabola in x: 0.15 at the middle, 0.15 (1 - 0.9025) at -95. The readings have
  // a pitch of 5 mm, so every place asked for is a reading.
  s.bed.readings =
      grid_of(100, 100, 41, 3, [](double x, double) { return 0.15 * (1 - x * x / 1e4); });
  CHECK(wall(0, 0) == Approx(0.80).epsilon(1e-9));
  CHECK(wall(100, 0) == Approx(1.10).epsilon(1e-9));
  touch({-95, 0}, {95, 0});
  CHECK(wall(0, 0) == Approx(0.8 - 2 * 0.15 * 0.9025).epsilon(1e-9)); // 0.53
}

TEST_CASE("touch point, tool setter, plate and tip height: signs and variances") {
  Setup s;
  s.inner.touch_off = {0.03, Knowledge::standard};
  s.inner.bit.zero = BitZero::tool_setter;
  s.inner.bit.setter = {0.01, Knowledge::standard};
  s.outer.plate_error_mm = 0.04;
  s.inner.plate_error_mm = 0.04;
  s.outer.bit.tip_height = {0.02, Knowledge::limits};
  const WallSample p = flat_point(0, 0, 9, 1);
  double variance = 0;
  for (const Cause& c : causes_with(s, CauseKind::touch_off, CauseKind::tool_setter)) {
    CHECK(c.distribution == Distribution::normal);
    variance += c.size * c.size * c.sensitivity(p) * c.sensitivity(p);
  }
  CHECK(variance == Approx(0.03 * 0.03 + 2 * 0.01 * 0.01)); // s_d^2 + 2 s_s^2
  CHECK(known_change(s, p) == Approx(0.08));                // the plate twice, same sign
  REQUIRE(causes_with(s, CauseKind::tip_height).size() == 1);
  CHECK(causes_with(s, CauseKind::tip_height)[0].sensitivity(p) == Approx(1));
  s.inner.bit.zero = BitZero::retouched;
  CHECK(causes_with(s, CauseKind::tool_setter).empty());
  CHECK(causes_with(s, CauseKind::touch_off)[0].sensitivity({{0, 0, 0}, {0.6, 0, -0.8}, 1}) ==
        Approx(0.8));
}

TEST_CASE("roughing beside a tool setter: two readings differ, the datum does not") {
  // r - f has one setter reading for each bit; the side's touch on the datum is in both.
  Setup s;
  s.inner.touch_off = {0.05, Knowledge::limits};
  s.inner.bit.zero = BitZero::tool_setter;
  s.inner.bit.setter = {0.01, Knowledge::limits};
  s.inner.bit.tip_height = {0.004, Knowledge::limits};
  s.inner.roughing = Roughing{0.03, {}};
  std::vector<Assumption> assumptions;
  const auto finishing = [&] {
    double own = 0;
    std::vector<CauseId> ids;
    const std::vector<Cause> causes = causes_of(s, assumptions);
    for (const Cause& c : causes)
      if (c.overcut) {
        own = c.size;
        for (const std::size_t f : c.overcut->finishing)
          ids.push_back(causes[f].id);
      }
    return std::pair{own, ids};
  };
  using Ids = std::vector<CauseId>;
  const CauseId datum_bit{CauseKind::tool_setter, Side::a, 0},
      finishing_bit{CauseKind::tool_setter, Side::a, 1}, touch{CauseKind::touch_off, Side::a},
      tip{CauseKind::tip_height, Side::a};
  CHECK(finishing() == std::pair{0.0, Ids{datum_bit, finishing_bit, tip}});
  // It touches on its own beside the datum bit: nothing is shared.
  s.inner.roughing->touch_off = Uncertain{0.06, Knowledge::limits};
  CHECK(finishing() == std::pair{0.06, Ids{touch, datum_bit, finishing_bit, tip}});
  // Every bit touches: its own touch against the finishing bit's.
  s.inner.bit.zero = BitZero::retouched;
  CHECK(finishing() == std::pair{0.06, Ids{touch, tip}});
}

TEST_CASE("a board cannot sink into the bed: a lift below 0 is refused") {
  Setup s;
  s.board.footprint = Footprint{{-50, -50}, {50, 50}};
  s.board.resin_cup_mm = 0.1;
  CHECK(causes_with(s, CauseKind::resin_cup).size() == 1);
  s.board.resin_cup_mm = -0.1;
  CHECK_THROWS_AS(causes_with(s, CauseKind::resin_cup), InputError);
  s.board.resin_cup_mm = std::nan("");
  CHECK_THROWS_AS(causes_with(s, CauseKind::resin_cup), InputError);
}

TEST_CASE("nothing stated, nothing assumed silently") {
  Setup s;
  std::vector<Assumption> assumptions;
  CHECK(causes_of(s, assumptions).empty());
  s.bed.readings = grid_of(10, 10, 3, 3, [](double, double) { return 0.0; });
  CHECK_THROWS_AS(causes_of(s, assumptions), InputError); // the footprint is not known
  s.board.footprint = Footprint{{-30, -30}, {30, 30}};
  assumptions.clear();
  causes_of(s, assumptions);
  const auto said = [&](const char* words) {
    for (const Assumption& a : assumptions)
      if (a.text.find(words) != std::string::npos)
        return true;
    return false;
  };
  CHECK(said("touched off in the middle"));
  CHECK(said("not read under the whole board"));
  CHECK(said("pressed flat or stiff"));
  s.inner.touch_off = {-0.1, Knowledge::limits};
  CHECK_THROWS_AS(causes_of(s, assumptions), InputError);
}
