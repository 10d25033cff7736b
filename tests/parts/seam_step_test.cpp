// The step at the seam against halves that are really moved, and against closed forms.
#include "parts/seam_step.h"

#include "causes/setup_support.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

BoardPlacing placed(bool mirrored, double turn_deg, Point2 place) {
  return {mirrored, turn_deg, place};
}

/// Two halves in set-ups without errors; the flip turns the board about a line along y.
struct Halves {
  Setup setup;
  BoardPlacing one = placed(true, 0, {0, -60}), other = placed(false, 0, {0, 60});
  std::array<GlueDowel, 2> dowels{GlueDowel{{-40, 0}, 0}, GlueDowel{{40, 0}, 0}};
  std::vector<RimPoint> rim;

  Halves() {
    setup.board.footprint = Footprint{{-150, -150}, {150, 150}};
    setup.board.assumed_thickness_mm = 40;
    setup.inner.touch_point = setup.outer.touch_point = Point2{-140, 140};
    setup.flip.dowels.emplace();
    setup.flip.dowels->spacing_mm = 280;
    // The four sides of a box, each in its middle, square on the pocket face.
    rim = {{{50, 0, 0}, {1, 0, 0}, 60},
           {{-50, 0, 0}, {-1, 0, 0}, 60},
           {{0, 30, 0}, {0, 1, 0}, 100},
           {{0, -30, 0}, {0, -1, 0}, 100}};
  }
  SeamInput input() const { return {setup, OnBoard(one), OnBoard(other), dowels, rim, 0, 4000, 7}; }
  SeamRow row() const { return seam_step(input(), {}); }
};

/// Skin that meets the pocket face at 45 degrees, wider above.
std::vector<RimPoint> sloped(std::vector<RimPoint> rim) {
  for (RimPoint& p : rim) {
    p.n.z = -1;
    p.n = unit(p.n);
  }
  return rim;
}

struct Motion {
  Point2 middle, shift;
  double turn = 0;
  Point2 operator()(Point2 p) const {
    const double c = std::cos(turn), s = std::sin(turn), x = p.x - middle.x, y = p.y - middle.y;
    return {middle.x + shift.x + c * x - s * y, middle.y + shift.y + s * x + c * y};
  }
};

/// A rigid body on two pins that are off by q1 and q2: middle by their mean, turned by what they
/// differ across the line through them.
Motion on_pins(Point2 pin_1, Point2 pin_2, Point2 q1, Point2 q2) {
  const double lx = pin_2.x - pin_1.x, ly = pin_2.y - pin_1.y, l2 = lx * lx + ly * ly;
  return {{(pin_1.x + pin_2.x) / 2, (pin_1.y + pin_2.y) / 2},
          {(q1.x + q2.x) / 2, (q1.y + q2.y) / 2},
          (lx * (q2.y - q1.y) - ly * (q2.x - q1.x)) / l2};
}

Point2 in_disc(std::mt19937& draw) {
  std::uniform_real_distribution<double> unit(-1, 1);
  for (;;) {
    const Point2 p{unit(draw), unit(draw)};
    if (p.x * p.x + p.y * p.y <= 1)
      return p;
  }
}

} // namespace

// Source: rigid motions of the plane, carried out point by point; no sensitivity is in them.
TEST_CASE(
    "the step agrees with outlines that are moved on both pins of the flip, about a flip line "
    "that is off, and on the dowels of the glue-up") {
  std::mt19937 draw(17);
  std::uniform_real_distribution<double> any(-1, 1);
  for (int job = 0; job < 200; ++job) {
    Halves h;
    h.one = placed(true, 90 * static_cast<double>(job % 4), {30 * any(draw), -60});
    h.other = placed(false, 180 * any(draw), {30 * any(draw), 60});
    h.dowels = {GlueDowel{{-40 + 5 * any(draw), 10 * any(draw)}, 0.12},
                GlueDowel{{40, 10 * any(draw)}, 0.08}};
    h.setup.flip.dowels->clearance_1_mm = 0.05;
    h.setup.flip.dowels->clearance_2_mm = 0.03;
    h.setup.flip.dowels->middle = Point2{0, 10};
    h.setup.flip.line_error = {0.04, Knowledge::limits};
    h.rim.clear();
    for (int k = 0; k < 12; ++k) {
      const double a = k * 0.5236 + 0.1;
      h.rim.push_back({{50 * std::cos(a), 30 * std::sin(a), 0},
                       unit(Vec3{std::cos(a) / 50, std::sin(a) / 30, 0}),
                       20});
    }
    const SeamInput input = h.input();
    const std::vector<Cause> causes = seam_causes(input);
    REQUIRE(causes.size() == 7); // line, two pins of the flip, two dowels in two halves

    // One draw of everything.
    std::vector<Point2> e;
    for (const Cause& c : causes)
      e.push_back(c.distribution == Distribution::disc ? in_disc(draw) : Point2{any(draw), 0});
    const auto of = [&](CauseKind kind, std::uint32_t instance) {
      for (std::size_t k = 0; k < causes.size(); ++k)
        if (causes[k].id.kind == kind && causes[k].id.instance == instance)
          return Point2{e[k].x * causes[k].size, e[k].y * causes[k].size};
      FAIL("no such cause");
      return Point2{};
    };
    // The pins of the flip stand along y at x 0: u is y, v is -x. Off by half of the clearance.
    const auto pin = [&](std::uint32_t i) {
      const Point2 q = of(CauseKind::dowel_play, i);
      return Point2{-q.y / 2, q.x / 2};
    };
    const Motion flip = on_pins({0, 10 - 140}, {0, 10 + 140}, pin(1), pin(2));
    const double line = of(CauseKind::flip_line, 0).x;
    // What is cut of a place of a half, in its own frame.
    const auto cut = [&](const BoardPlacing& placing, Point2 own) {
      const OnBoard on(placing);
      const Vec3 p = on.place(Vec3{own.x, own.y, 0});
      Point2 q = flip({p.x, p.y});
      q.x += 2 * line;
      return on.back(q);
    };
    // The glue-up dowels: u from the first to the second, v a quarter turn on.
    const Point2 d0 = h.dowels[0].at, d1 = h.dowels[1].at;
    const double l = std::hypot(d1.x - d0.x, d1.y - d0.y);
    const Point2 u{(d1.x - d0.x) / l, (d1.y - d0.y) / l};
    const auto dowel = [&](std::uint32_t i) {
      const Point2 q = of(CauseKind::glue_up_play, i);
      return Point2{(q.x * u.x - q.y * u.y) / 2, (q.x * u.y + q.y * u.x) / 2};
    };
    const Motion one = on_pins(d0, d1, dowel(1), dowel(2));
    const Motion other = on_pins(d0, d1, dowel(3), dowel(4));

    for (const RimPoint& p : h.rim) {
      const WallSample sample{p.at, p.n, 0};
      double step = 0;
      for (std::size_t k = 0; k < causes.size(); ++k) {
        step += causes[k].size * e[k].x * causes[k].sensitivity(sample);
        if (causes[k].sensitivity_2)
          step += causes[k].size * e[k].y * causes[k].sensitivity_2(sample);
      }
      const Point2 a = one(cut(h.one, {p.at.x, p.at.y}));
      const Point2 b = other(cut(h.other, {p.at.x, p.at.y}));
      const double moved = p.n.x * (a.x - b.x) + p.n.y * (a.y - b.y);
      // A linear model leaves out half the squares of two turns by 1.5e-3, times 60 mm.
      CHECK(std::abs(step - moved) < 2e-4);
    }
  }
}

// Source: derivation in closed form, beside each.
TEST_CASE("a flip line that is off doubles four times where the halves lie mirrored across it, and "
          "cancels where one is turned as well") {
  Halves h;
  h.setup.flip.line_error = {0.05, Knowledge::limits};
  // The skin of either half is 2 d off in board x; one half's own x runs against it.
  SeamRow row = h.row();
  CHECK(row.worst_mm == Approx(4 * 0.05));
  CHECK(row.expected_mm == 0);
  CHECK(std::abs(row.largest.at.x) == 50);
  // |d| is uniform up to its limit.
  CHECK(row.in_19_of_20_mm == Approx(0.95 * 4 * 0.05).epsilon(0.01));
  REQUIRE(row.causes.size() == 1);
  CHECK(row.causes[0].id.kind == CauseKind::flip_line);
  // Mirrored in x and turned by 180 degrees is mirrored in y: x runs alike.
  h.one = placed(true, 180, {0, -60});
  row = h.row();
  CHECK(row.worst_mm == Approx(0).scale(1e-9));
  CHECK(row.in_19_of_20_mm == Approx(0).scale(1e-9));
}

TEST_CASE("dowels of the glue-up let a half move by the clearance of both holes, and turn") {
  Halves h;
  h.dowels[0].clearance_mm = h.dowels[1].clearance_mm = 0.1;
  // Along the dowels: each half by half of the clearance, both dowels alike: 0.05 + 0.05.
  SeamRow row = h.row();
  h.rim = {{{50, 0, 0}, {1, 0, 0}, 60}};
  CHECK(h.row().worst_mm == Approx(0.1));
  // Across, at s beyond the middle of dowels L apart: the pins opposite, 0.05 (1/2 + s/L) and
  // 0.05 (s/L - 1/2) for each half.
  h.rim = {{{120, 30, 0}, {0, 1, 0}, 60}};
  CHECK(h.row().worst_mm == Approx(2 * 0.05 * (120.0 / 80 + 0.5 + 120.0 / 80 - 0.5)));
  CHECK(row.worst_mm >= h.row().worst_mm / 4);
}

TEST_CASE("what both halves share cancels; what is each one's own adds up") {
  Halves h;
  h.rim = sloped(h.rim);
  h.setup.outer.touch_off = {0.1, Knowledge::limits};
  h.setup.inner.touch_off = {0.1, Knowledge::limits};
  h.setup.board.thickness_error = {0.2, Knowledge::limits};
  h.setup.outer.bit.ball_radius_mm = 2;
  h.setup.outer.bit.radius = {0.05, Knowledge::limits};
  h.setup.outer.bit.runout_mm = 0.1;
  CHECK(h.row().worst_mm == Approx(0).scale(1e-9));
  // Sanded by hand: 0.05 more or less on either face, along the normal; across the outline of a
  // skin at 45 degrees sqrt 2 of it.
  h.setup.outer.sanding_mm = 0.1;
  h.setup.outer.sanding = {0.05, Knowledge::limits};
  const SeamRow row = h.row();
  CHECK(row.expected_mm == Approx(0).scale(1e-9));
  CHECK(row.worst_mm == Approx(2 * 0.05 * std::sqrt(2.0)));
  CHECK(row.in_19_of_20_mm > 0.05);
  CHECK(row.in_19_of_20_mm < row.worst_mm);
}

TEST_CASE(
    "a bed that leans along both halves shifts the outline of a sloped skin, not of an upright "
    "one") {
  Halves h;
  // 0.3 mm over 300 mm in y: the halves, 120 mm apart there, differ by 0.12 in height; at 45
  // degrees as much across the outline. Whether they were touched on the board or the bed.
  h.setup.bed.readings = grid_of(200, 200, 41, 41, [](double, double y) { return 0.001 * y; });
  h.setup.bed.seating = Seating::pressed;
  h.setup.bed.reading_error = {0.01, Knowledge::limits};
  for (const ZeroFrom zero : {ZeroFrom::bed, ZeroFrom::top}) {
    h.setup.outer.zero = zero;
    CHECK(h.row().expected_mm == Approx(0).scale(1e-9));
    Halves s = h;
    s.rim = sloped(s.rim);
    const SeamRow row = s.row();
    CHECK(row.expected_mm == Approx(0.12));
    // Side A does not cut the outline: the readings round a place of either half, none of both.
    CHECK(row.worst_mm == Approx(0.12 + 2 * 0.01));
  }
}

// Common practice: a bed of which only the flatness is known is as high as that somewhere.
TEST_CASE("a bed known by its flatness alone lies under two halves up to that much apart") {
  Halves h;
  h.rim = sloped(h.rim);
  h.setup.bed.flatness_mm = 0.08;
  CHECK(h.row().worst_mm == Approx(0.08)); // at 45 degrees as much across as up
  h.rim.front().n = {1, 0, 0};
  h.rim.resize(1);
  CHECK(h.row().worst_mm == Approx(0).scale(1e-9));
}

TEST_CASE("what side A does not do to an outline is not counted, how the holes were drilled is") {
  Halves h;
  h.rim = sloped(h.rim);
  h.setup.inner.touch_off = {0.5, Knowledge::limits};
  h.setup.inner.zero = ZeroFrom::top;
  h.setup.board.variation_mm = 0.3;
  h.setup.outer.zero = ZeroFrom::bed; // hangs from the pocket face itself, which lies on the bed
  CHECK(h.row().worst_mm == Approx(0).scale(1e-9));
  // Holes that were drilled when the board had been put back on its pins: as if it were a flip
  // more.
  h.setup.flip.dowels->clearance_1_mm = h.setup.flip.dowels->clearance_2_mm = 0.04;
  const double flip_alone = h.row().worst_mm;
  h.setup.inner_cut.set_up = 1;
  CHECK(h.row().worst_mm > 1.9 * flip_alone);
  CHECK(h.row().worst_mm < 2.1 * flip_alone);
}

TEST_CASE("halves of two boards: each flip has its own error, bits and machine are the same") {
  Halves h;
  h.setup.flip.line_error = {0.05, Knowledge::limits};
  h.one = placed(true, 180, {0, 60}); // cancels on one board
  SeamInput input = h.input();
  CHECK(seam_step(input, {}).worst_mm == Approx(0).scale(1e-9));
  input.other_board = 1;
  SeamRow row = seam_step(input, {});
  CHECK(row.worst_mm == Approx(2 * 0.05 + 2 * 0.05));
  REQUIRE(row.causes.size() == 2);
  CHECK(row.causes[0].id.board + row.causes[1].id.board == 1);
  // The sum of two rectangles of +-0.1: a triangle, 19 in 20 within 0.2 (1 - sqrt(1 / 20)).
  CHECK(row.in_19_of_20_mm == Approx(0.2 * (1 - std::sqrt(0.05))).epsilon(0.02));

  h.setup.flip.line_error = {};
  h.rim = sloped(h.rim);
  h.setup.outer.touch_off = {0.1, Knowledge::limits};
  h.setup.outer.bit.ball_radius_mm = 2;
  h.setup.outer.bit.radius = {0.05, Knowledge::limits};
  SeamInput own = h.input();
  own.other_board = 1;
  row = seam_step(own, {});
  CHECK(row.worst_mm == Approx(0.1 + 0.1)); // at 45 degrees as much across as up; no bit
  // Roughing marks hang from the touch-offs of their own half: against a finishing bit that is 0.1
  // too high and a roughing bit 0.05 too low, 0.05 of an allowance of 0.1 is overcut, in either
  // half.
  h.setup.outer.roughing = Roughing{0.1, Uncertain{0.05, Knowledge::limits}};
  SeamInput rough = h.input();
  rough.other_board = 1;
  const std::vector<Cause> causes = seam_causes(rough);
  std::size_t marks = 0;
  for (const Cause& cause : causes)
    if (cause.overcut) {
      ++marks;
      for (const std::size_t k : cause.overcut->finishing)
        CHECK(causes[k].id.board == cause.id.board);
    }
  CHECK(marks == 2);
}

namespace {

/// A linear map of the plane.
struct Linear {
  double xx = 1, xy = 0, yx = 0, yy = 1;
  Point2 operator()(Point2 p) const { return {xx * p.x + xy * p.y, yx * p.x + yy * p.y}; }
};

} // namespace

// Source: a machine whose y leans, (x, y) cut at (x + k y, y), carried out: pins drilled by it, the
// board turned over onto them, both halves laid on one another by their holes.
TEST_CASE("a machine out of square: halves that were cut by it and laid on their holes") {
  struct Row {
    FlipLine line;
    bool pins_along;
    double turn_one, turn_other;
    Point2 hole_1, hole_2;
  };
  const double k = 1e-3;
  for (const Row& row : {Row{FlipLine::along_y, true, 0, 180, {-15, 0}, {15, 0}},
                         Row{FlipLine::along_y, true, 90, 90, {-15, 0}, {15, 0}},
                         Row{FlipLine::along_x, true, 0, 180, {-15, 0}, {15, 0}},
                         Row{FlipLine::along_x, true, 90, 90, {-15, 0}, {15, 0}},
                         Row{FlipLine::along_y, true, 0, 180, {-24, 0}, {24, 10}},
                         Row{FlipLine::along_y, false, 0, 30, {0, -85}, {5, 85}},
                         Row{FlipLine::along_x, false, 20, 180, {-15, 3}, {15, 0}}}) {
    CAPTURE(row.turn_one);
    CAPTURE(row.turn_other);
    Halves h;
    h.setup.flip.line = row.line;
    h.setup.flip.dowels->along_flip_line = row.pins_along;
    h.setup.flip.dowels->middle = Point2{0, 0};
    h.setup.flip.out_of_square_mm_per_m = 1;
    h.one = placed(true, row.turn_one, {0, -60});
    h.other = placed(false, row.turn_other, {0, 60});
    h.dowels = {GlueDowel{row.hole_1, 0}, GlueDowel{row.hole_2, 0}};
    h.rim.clear();
    for (int i = 0; i < 24; ++i) {
      const double a = i * 0.2618 + 0.05;
      h.rim.push_back({{20 * std::cos(a), 90 * std::sin(a), 0},
                       unit(Vec3{std::cos(a) / 20, std::sin(a) / 90, 0}),
                       10});
    }
    const Linear lean{1, k, 0, 1};
    // Where on the board the skin of a place is cut. Pins and their holes in the board are both
    // where the machine drills them; the board lies so that they meet.
    const bool y_line = row.line == FlipLine::along_y;
    const auto flipped = [&](Point2 p) { return y_line ? Point2{-p.x, p.y} : Point2{p.x, -p.y}; };
    const Point2 pin = row.pins_along == y_line ? Point2{0, 140} : Point2{140, 0};
    const Point2 drilled = lean(pin);        // in the bed, and in the board
    const Point2 over = flipped(drilled);    // the board's hole, turned over
    const Point2 meets = lean(flipped(pin)); // the pin that it comes to
    const double turn = std::atan2(meets.y, meets.x) - std::atan2(over.y, over.x);
    const Motion back{{}, {}, -turn};
    const auto skin = [&](Point2 p) { return flipped(back(lean(flipped(p)))); };
    const auto step = [&](const BoardPlacing& placing, const RimPoint& p) {
      const OnBoard on(placing);
      const auto on_board = [&](Point2 q) {
        const Vec3 v = on.place(Vec3{q.x, q.y, 0});
        return Point2{v.x, v.y};
      };
      const auto own = [&](Point2 q) { return on.back(q); };
      const Point2 a = own(lean(on_board(row.hole_1))), b = own(lean(on_board(row.hole_2)));
      // Laid on its holes: middle on middle, direction on direction.
      const double wanted = std::atan2(row.hole_2.y - row.hole_1.y, row.hole_2.x - row.hole_1.x);
      const double found = std::atan2(b.y - a.y, b.x - a.x);
      const Point2 middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
      const Motion lay{middle,
                       {(row.hole_1.x + row.hole_2.x) / 2 - middle.x,
                        (row.hole_1.y + row.hole_2.y) / 2 - middle.y},
                       wanted - found};
      const Point2 cut = lay(own(skin(on_board({p.at.x, p.at.y}))));
      return p.n.x * (cut.x - p.at.x) + p.n.y * (cut.y - p.at.y);
    };
    const SeamInput input = h.input();
    const std::vector<Cause> causes = seam_causes(input);
    REQUIRE(causes.size() == 1);
    double largest = 0;
    for (const RimPoint& p : h.rim) {
      const double moved = step(h.one, p) - step(h.other, p);
      largest = std::max(largest, std::abs(moved));
      // Of either sign: the cause is symmetric.
      CHECK(std::abs(causes[0].sensitivity({p.at, p.n, 0})) ==
            Approx(std::abs(moved)).epsilon(0.01).scale(0.02));
    }
    CHECK(seam_step(input, {}).worst_mm == Approx(largest).epsilon(0.01));
  }
}

TEST_CASE("two boards that rock lie each as they like") {
  Halves h;
  h.rim = sloped(h.rim);
  h.one = placed(true, 0, {0, -60});
  h.other = placed(false, 180, {0, 60});
  // A ridge along x = 0, 0.2 high: a stiff board tips to either side.
  h.setup.bed.readings =
      grid_of(200, 200, 41, 41, [](double x, double) { return std::abs(x) < 1 ? 0.2 : 0.0; });
  h.setup.bed.seating = Seating::rigid;
  SeamInput input = h.input();
  const double one_board = seam_step(input, {}).expected_mm;
  input.other_board = 1;
  const double two_boards = seam_step(input, {}).expected_mm;
  CHECK(two_boards > 0.02);
  CHECK(two_boards >= one_board);
  // Halves at one place of two boards: on one board they would not differ at all.
  h.one = h.other = placed(false, 0, {0, 60});
  SeamInput same = h.input();
  CHECK(seam_step(same, {}).expected_mm == Approx(0).scale(1e-9));
  same.other_board = 1;
  CHECK(seam_step(same, {}).expected_mm > 0.02);
}
