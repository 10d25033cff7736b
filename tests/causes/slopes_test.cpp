// Every vertical cause on slopes of many directions: two planes really displaced against each other
// stand n . (d_outer - d_inner) farther apart, whatever the cause is called.
#include "causes/setup_support.h"

#include "base/assumption.h"
#include "causes/board/board_thickness.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <memory>
#include <numbers>
#include <optional>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

/// Directions from level to steep, all round.
std::vector<Vec3> directions() {
  std::vector<Vec3> out;
  for (const double slope_deg : {0.0, 20.0, 45.0, 70.0, 89.0})
    for (const double round_deg : {0.0, 50.0, 160.0, 275.0}) {
      const double s = slope_deg * std::numbers::pi / 180, r = round_deg * std::numbers::pi / 180;
      out.push_back({std::sin(s) * std::cos(r), std::sin(s) * std::sin(r), -std::cos(s)});
    }
  return out;
}

/// Distance of two parallel planes through `inner` and `outer`, along n from inner to outer.
double apart(const Vec3& inner, const Vec3& outer, const Vec3& n) {
  return dot(outer - inner, n);
}

/// What the cause does, per unit, to the floor and to the skin, model z.
struct Moves {
  double floor_z = 0, skin_z = 0;
};

/// By the frame of setup.h: the floor of a cut that is too shallow on side A stands higher, the
/// skin of one on side B lower; a board thicker by tau lifts what hangs from its upper face on side
/// A and, on side B, pushes what hangs from its upper (skin) face down.
std::optional<Moves> moves_of(const Cause& cause, const Setup& setup) {
  const bool a = cause.id.side == Side::a;
  const double k_a = setup.inner.zero == ZeroFrom::top, k_b = setup.outer.zero == ZeroFrom::top;
  switch (cause.id.kind) {
  case CauseKind::touch_off:
  case CauseKind::tool_setter:
  case CauseKind::touch_plate:
  case CauseKind::tip_height:
  case CauseKind::bed_flatness:
    return a ? Moves{1, 0} : Moves{0, -1};
  case CauseKind::board_thickness:
  case CauseKind::board_against_program:
    // Measured from the skin face: the floor of side A at k_a tau, of a pocket face at tau; side B
    // cuts at (1 - k_b) tau under that: its skin rises with the pocket face that lies on the bed.
    return Moves{k_a, 1 - k_b};
  case CauseKind::board_under_wall:
    return Moves{0, 1};
  case CauseKind::board_at_touch:
    return cause.id.instance == 0   ? Moves{1, -1}
           : cause.id.instance == 1 ? Moves{1, 0}
                                    : Moves{0, -1};
  default:
    return std::nullopt;
  }
}

Setup stated(ZeroFrom a, ZeroFrom b) {
  Setup s;
  s.board.footprint = Footprint{{-60, -60}, {60, 60}};
  s.board.assumed_thickness_mm = 20;
  s.board.measured_thickness_mm = 20.3;
  s.board.thickness_error = {0.1, Knowledge::limits};
  s.board.variation_mm = 0.05;
  s.bed.flatness_mm = 0.1;
  s.inner.zero = a;
  s.outer.zero = b;
  s.inner.touch_point = Point2{-50, 0};
  s.outer.touch_point = Point2{50, 0};
  for (SideSetup* side : {&s.inner, &s.outer}) {
    side->touch_off = {0.03, Knowledge::standard};
    side->plate_error_mm = 0.02;
    side->bit.tip_height = {0.01, Knowledge::limits};
    side->bit.zero = BitZero::tool_setter;
    side->bit.setter = {0.01, Knowledge::limits};
  }
  return s;
}

} // namespace

TEST_CASE("vertical causes on slopes: what two displaced planes show, all four zero pairs") {
  const ZeroFrom zeros[] = {ZeroFrom::top, ZeroFrom::bed};
  std::size_t compared = 0, steep = 0;
  for (const ZeroFrom a : zeros)
    for (const ZeroFrom b : zeros) {
      const Setup setup = stated(a, b);
      std::vector<Assumption> assumptions;
      for (const Cause& cause : causes_of(setup, assumptions)) {
        const std::optional<Moves> moves = moves_of(cause, setup);
        if (!moves)
          continue;
        for (const Vec3& n : directions()) {
          const double wall = 0.8, e = 0.37;
          const Vec3 skin{12, -7, -11}, floor = skin - wall * n;
          const Vec3 floor_moved = floor + Vec3{0, 0, e * moves->floor_z};
          const Vec3 skin_moved = skin + Vec3{0, 0, e * moves->skin_z};
          const double change = apart(floor_moved, skin_moved, n) - apart(floor, skin, n);
          CHECK(e * cause.sensitivity({skin, n, wall}) == Approx(change).epsilon(1e-9));
          ++compared;
          steep += std::abs(n.z) < 0.5 && std::abs(change) > 1e-3;
        }
      }
    }
  CHECK(compared > 4 * 10 * 20);
  CHECK(steep > 200);
}

TEST_CASE("sideways causes on slopes: skin and floor really moved aside") {
  Setup s = stated(ZeroFrom::top, ZeroFrom::bed);
  s.flip.located_by = LocatedBy::edges;
  s.flip.line_error = {0.05, Knowledge::limits};
  for (const FlipLine line : {FlipLine::along_x, FlipLine::along_y}) {
    s.flip.line = line;
    const auto causes = causes_with(s, CauseKind::flip_line);
    REQUIRE(causes.size() == 1);
    for (const Vec3& n : directions()) {
      // A line that is off by e mirrors the skin to 2 e beside its place.
      const double e = 0.05;
      const Vec3 moved = line == FlipLine::along_y ? Vec3{2 * e, 0, 0} : Vec3{0, 2 * e, 0};
      CHECK(e * causes[0].sensitivity({{5, 5, -9}, n, 1}) == Approx(dot(moved, n)).epsilon(1e-9));
    }
  }
}

TEST_CASE(
    "out of square with pins across the flip line: nothing beside the pins, more farther off") {
  Setup s = stated(ZeroFrom::top, ZeroFrom::bed);
  s.flip.line = FlipLine::along_y;
  s.flip.located_by = LocatedBy::dowels;
  s.flip.dowels = Dowels{0.02, 0.02, 80, Point2{0, 30}, false};
  s.flip.out_of_square_mm_per_m = 1;
  const auto causes = causes_with(s, CauseKind::out_of_square);
  REQUIRE(causes.size() == 1);
  const Vec3 n{0.6, 0, -0.8};
  CHECK(causes[0].sensitivity({{17, 30, -9}, n, 1}) == Approx(0));
  // 1 mm a metre, twice, 50 mm along the line from the middle of the pins.
  CHECK(std::abs(causes[0].sensitivity({{17, 80, -9}, n, 1})) == Approx(2e-3 * 50 * 0.6));
  CHECK(std::abs(causes[0].sensitivity({{17, -20, -9}, n, 1})) == Approx(2e-3 * 50 * 0.6));
}

TEST_CASE(
    "programs are taken as made for the mean of the board's readings where nothing else is said") {
  Setup s;
  s.board.thickness_readings = std::make_shared<const BedMap>(
      BedMap::scattered(std::vector<Vec3>{{0, 0, 20.0}, {50, 0, 20.3}, {0, 50, 20.6}}));
  std::vector<Assumption> assumptions;
  const AssumedThickness t = assumed_thickness(s, assumptions);
  REQUIRE(t.a.has_value());
  CHECK(*t.a == Approx(20.3));
  CHECK(*t.b == Approx(20.3));
  CHECK(assumptions.size() == 1);
}

TEST_CASE("seating not known: pressed and stiff are both computed and the thinner wall counts") {
  Setup s = stated(ZeroFrom::bed, ZeroFrom::bed);
  s.bed.flatness_mm.reset();
  // A dish: corners 0.2 mm over the middle. A stiff board rests on the corners.
  s.bed.readings = grid_of(
      60, 60, 5, 5, [](double x, double y) { return 0.2 * (x * x + y * y) / (2 * 60 * 60); });
  const WallSample middle{{0, 0, -9}, {0, 0, -1}, 1}, edge{{55, 0, -9}, {0, 0, -1}, 1};
  const auto seat = [&](Seating seating, const WallSample& p) {
    s.bed.seating = seating;
    const auto causes = causes_with(s, CauseKind::bed_seat);
    REQUIRE(causes.size() == 2);
    return causes[0].sensitivity(p);
  };
  for (const WallSample& p : {middle, edge}) {
    const double pressed = seat(Seating::pressed, p), rigid = seat(Seating::rigid, p);
    CHECK(std::abs(pressed - rigid) > 0.01);
    CHECK(seat(Seating::unknown, p) == Approx(std::min(pressed, rigid)));
  }
}
