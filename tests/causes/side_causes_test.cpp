// Bits, flip, wood, sanding: sensitivities against closed forms and against displaced points.
#include "causes/setup_support.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "setup/place.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <set>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

const WallSample kSlope{{30, 20, -10}, {0.36, 0.48, -0.8}, 0.9};

WallSample with_normal(double x, double y, double z) {
  return {{30, 20, -10}, unit({x, y, z}), 0.9};
}

} // namespace

TEST_CASE("a ball that is too large cuts too deep on slopes: measured on the ball itself") {
  Setup s;
  s.inner.bit.radius = {0.02, Knowledge::limits};
  const auto causes = causes_with(s, CauseKind::ball_radius);
  REQUIRE(causes.size() == 1);
  for (const double slope_deg : {0.0, 30.0, 60.0, 90.0}) {
    const double a = slope_deg * std::numbers::pi / 180;
    // Surface through 0 with upward normal m; a ball of radius 3 touches it with its centre at 3 m.
    // Same tip height, radius 3 + dR: centre dR higher. Depth of the new ball below the surface.
    const Vec3 m{std::sin(a), 0, std::cos(a)};
    const double dr = 0.02;
    const Vec3 centre = 3.0 * m + Vec3{0, 0, dr};
    const double depth = (3 + dr) - dot(centre, m);
    const WallSample p{{0, 0, 0}, -m, 1};
    CHECK(causes[0].sensitivity(p) * dr == Approx(-depth).epsilon(1e-12));
  }
}

TEST_CASE("sideways overcut: the sine of the slope, always thinner") {
  Setup s;
  s.outer.bit.runout_mm = 0.02;
  const auto causes = causes_with(s, CauseKind::runout);
  REQUIRE(causes.size() == 1);
  CHECK(causes[0].distribution == Distribution::half_uniform);
  CHECK(causes[0].sensitivity(with_normal(0, 0, -1)) == Approx(0));
  CHECK(causes[0].sensitivity(with_normal(1, 0, 0)) == Approx(-1));
  CHECK(causes[0].sensitivity(kSlope) == Approx(-0.6));
}

TEST_CASE("flip line off by d: the skin comes back 2 d off") {
  Setup s;
  s.flip.line_error = {0.1, Knowledge::limits};
  s.flip.located_by = LocatedBy::edges;
  auto causes = causes_with(s, CauseKind::flip_line);
  REQUIRE(causes.size() == 1);
  CHECK(causes[0].sensitivity(kSlope) == Approx(2 * 0.36));
  s.flip.line = FlipLine::along_x;
  CHECK(causes_with(s, CauseKind::flip_line)[0].sensitivity(kSlope) == Approx(2 * 0.48));
  // Geometry of it: turning about f and about f + d differ by 2 d.
  s.flip.at_mm = 5;
  const Point2 p = bed_place(s, Side::b, {3, 7});
  s.flip.at_mm = 5.1;
  const Point2 q = bed_place(s, Side::b, {3, 7});
  CHECK(q.y - p.y == Approx(0.2));
  CHECK(p.x == 3);
  CHECK(p.y == Approx(3));
  s.flip.line_error = {};
  std::vector<Assumption> assumptions;
  causes_of(s, assumptions);
  REQUIRE(assumptions.size() == 1); // edges without a stated error
}

TEST_CASE("play of two dowels: each pin's disc moves the skin as a stiff body") {
  for (const FlipLine line : {FlipLine::along_x, FlipLine::along_y})
    for (const bool along : {true, false}) {
      Setup s;
      s.flip.line = line;
      s.flip.dowels = Dowels{0.024, 0.031, 300, Point2{10, -5}, along};
      const auto causes = causes_with(s, CauseKind::dowel_play);
      REQUIRE(causes.size() == 2);
      CHECK(causes[0].size == Approx(0.024)); // the clearance: off by half of it at most
      // The pins themselves, and small displacements q1, q2 of the board there.
      const bool u_is_y = along == (line == FlipLine::along_y);
      const Vec3 u = u_is_y ? Vec3{0, 1, 0} : Vec3{1, 0, 0};
      const Vec3 v = u_is_y ? Vec3{-1, 0, 0} : Vec3{0, 1, 0};
      const double q1u = 0.003, q1v = -0.008, q2u = -0.002, q2v = 0.009;
      // In a disc whose radius is the clearance an error of e stands for a pin off by e / 2.
      const double theta = (q2v - q1v) / 300;
      const Vec3 arm = kSlope.at - Vec3{10, -5, kSlope.at.z};
      const Vec3 moved = (q1u + q2u) / 2 * u + (q1v + q2v) / 2 * v + theta * cross({0, 0, 1}, arm);
      const double change =
          2 * (causes[0].sensitivity(kSlope) * q1u + causes[0].sensitivity_2(kSlope) * q1v +
               causes[1].sensitivity(kSlope) * q2u + causes[1].sensitivity_2(kSlope) * q2v);
      CHECK(change == Approx(dot(kSlope.n, moved)).epsilon(1e-12));
    }
}

TEST_CASE("dowel play: the fit table's numbers (ISO 286 limits, geometry by hand)") {
  // 8 H8/h6, clearance 0.031, pins 300 apart: 0.0155 between the pins, 0.031 at 300 mm.
  Setup s;
  s.flip.dowels = Dowels{0.031, 0.031, 300, Point2{0, 0}, true};
  const auto causes = causes_with(s, CauseKind::dowel_play);
  REQUIRE(causes.size() == 2);
  const auto across_at = [&](double y) {
    const WallSample p{{0, y, 0}, {1, 0, 0}, 1}; // upright wall across the flip line
    double sum = 0;
    for (const Cause& c : causes)
      sum += c.size * std::hypot(c.sensitivity(p), c.sensitivity_2(p));
    return sum;
  };
  CHECK(across_at(0) == Approx(0.0155));
  CHECK(across_at(150) == Approx(0.0155));
  CHECK(across_at(200) == Approx(0.0206667).epsilon(1e-5));
  CHECK(across_at(300) == Approx(0.031));
  s.flip.dowels->spacing_mm = 0;
  CHECK_THROWS_AS(causes_with(s, CauseKind::dowel_play), InputError);
  s.flip.dowels->clearance_1_mm = s.flip.dowels->clearance_2_mm = 0;
  CHECK(causes_with(s, CauseKind::dowel_play).empty());
}

TEST_CASE("machine out of square: cut both sides on the leaning machine and compare") {
  // Machine (x, y) is really at (x + k y, y). Pocket point p is cut there; the board is turned over
  // about the real pins; the skin point is cut where the program's mirrored place really is.
  const double k = 1e-4; // 0.1 mm/m
  const auto real = [&](Point2 p) { return Point2{p.x + k * p.y, p.y}; };
  for (const FlipLine line : {FlipLine::along_x, FlipLine::along_y})
    for (const bool along : {true, false}) {
      Setup s;
      s.flip.line = line;
      s.flip.at_mm = 0;
      s.flip.out_of_square_mm_per_m = 0.1;
      s.flip.dowels = Dowels{0, 0, 200, Point2{0, 0}, along};
      const auto causes = causes_with(s, CauseKind::out_of_square);
      REQUIRE(causes.size() == 1);
      CHECK(causes[0].unit == "mm/m");
      const Point2 p{kSlope.at.x, kSlope.at.y};
      // Real pins, by the program on or across the flip line; the turn keeps the pins' line.
      const bool pins_y = along == (line == FlipLine::along_y);
      const Point2 pin = real(pins_y ? Point2{0, 100} : Point2{100, 0});
      const double l = std::hypot(pin.x, pin.y);
      const Point2 u{pin.x / l, pin.y / l};
      const Point2 cut = real(p); // on the board, side A
      const double cu = cut.x * u.x + cut.y * u.y, cv = -cut.x * u.y + cut.y * u.x;
      // Turned over: along the pins kept when they stand on the flip line, else swapped.
      const double tu = along ? cu : -cu, tv = along ? -cv : cv;
      const Point2 lies{tu * u.x - tv * u.y, tu * u.y + tv * u.x};
      const Point2 skin = real(line == FlipLine::along_y ? Point2{-p.x, p.y} : Point2{p.x, -p.y});
      // Skin against pocket, turned back into the model.
      double dx = skin.x - lies.x, dy = skin.y - lies.y;
      (line == FlipLine::along_y ? dx : dy) *= -1;
      const double change = kSlope.n.x * dx + kSlope.n.y * dy;
      CHECK(std::abs(causes[0].sensitivity(kSlope) * 0.1) ==
            Approx(std::abs(change)).epsilon(1e-3)); // products k^2 left out
    }
  // Edges: the larger of the two.
  Setup s;
  s.flip.out_of_square_mm_per_m = 0.1;
  s.flip.located_by = LocatedBy::edges;
  s.board.footprint = Footprint{{-50, -50}, {50, 50}};
  CHECK(std::abs(causes_with(s, CauseKind::out_of_square)[0].sensitivity(kSlope)) ==
        Approx(2e-3 * std::max(0.48 * 30, 0.36 * 20)));
}

TEST_CASE("swelling: maple, 2 % moisture, by hand") {
  // Coefficient 0.00165 per percent (radial, sugar maple: Wood Handbook, FPL-GTR-190, table 13-5).
  Setup s;
  s.board.assumed_thickness_mm = 50;
  s.board.swelling_per_percent = 0.00165;
  s.board.moisture_change_percent = 2;
  const double swell = 0.0033;
  const WallSample p = flat_point(0, 0, 45, 1); // floor 45 deep, 5 above the skin face
  s.board.footprint = Footprint{{-1, -1}, {1, 1}};
  CHECK(known_change(s, p) == Approx(swell * 5));
  s.outer.assumed_thickness_mm = 50; // the wood swells, not the program: board 51, floor 6 above
  s.board.assumed_thickness_mm = 51;
  CHECK(known_change(s, p) == Approx(1 + swell * 6)); // cut 1 higher, too
  s.outer.assumed_thickness_mm.reset();
  s.board.assumed_thickness_mm = 50;
  s.outer.zero = ZeroFrom::bed;
  CHECK(known_change(s, p) == Approx(-swell * 45));
  s.top_z_mm = 10; // the pocket face is 10 higher: the floor is 55 deep
  CHECK(known_change(s, p) == Approx(-swell * 55));
  s.board.swelling_per_percent.reset();
  s.board.species = "sugar maple"; // the same by name: 0.00165 radial, 0.00353 tangential
  s.board.grain = Board::Grain::radial;
  CHECK(known_change(s, p) == Approx(-swell * 55));
  s.board.grain = Board::Grain::tangential;
  CHECK(known_change(s, p) == Approx(-0.00706 * 55));
  s.board.grain.reset();
  CHECK_THROWS_AS(known_change(s, p), InputError);
}

TEST_CASE("resin cup: -g in the middle for a bed zero, nothing at the touch point for a top zero") {
  Setup s;
  s.board.resin_cup_mm = 0.12;
  s.board.footprint = Footprint{{-60, -40}, {60, 40}};
  s.outer.zero = ZeroFrom::bed;
  CHECK(known_change(s, flat_point(0, 0, 9, 1)) == Approx(-0.12));
  CHECK(known_change(s, flat_point(60, 40, 9, 1)) == Approx(0).epsilon(1e-12));
  s.outer.zero = ZeroFrom::top;
  s.outer.touch_point = Point2{0, 0};
  CHECK(known_change(s, flat_point(0, 0, 9, 1)) == Approx(0).epsilon(1e-12));
  CHECK(known_change(s, flat_point(60, 40, 9, 1)) == Approx(0.12));
}

TEST_CASE("sanding: along the normal, on any slope") {
  Setup s;
  s.inner.sanding_mm = 0.05;
  s.outer.sanding_mm = 0.03;
  s.outer.sanding = {0.02, Knowledge::standard};
  CHECK(known_change(s, kSlope) == Approx(-0.08));
  CHECK(known_change(s, with_normal(1, 0, 0)) == Approx(-0.08));
  CHECK(causes_with(s, CauseKind::sanding, CauseKind::uneven_sanding).size() == 3);
  s.inner.sanding_mm = -1;
  CHECK_THROWS_AS(known_change(s, kSlope), InputError);
}

TEST_CASE("bed flatness: both sides, by the cosine; readings replace it; errors of readings") {
  Setup s;
  s.bed.flatness_mm = 0.15;
  s.board.footprint = Footprint{{-60, -40}, {60, 40}};
  double worst = 0;
  for (const Cause& c : causes_with(s, CauseKind::bed_flatness))
    worst += c.size * std::abs(c.sensitivity(kSlope));
  CHECK(worst == Approx(2 * 0.15 * 0.8));
  s.bed.readings = grid_of(60, 40, 3, 3, [](double, double) { return 0.0; });
  s.bed.reading_error = {0.01, Knowledge::limits};
  CHECK(causes_with(s, CauseKind::bed_flatness).empty());
  CHECK(causes_with(s, CauseKind::bed_reading).size() == 1);
}

TEST_CASE("every cause at once has its own name") {
  Setup s;
  s.board.footprint = Footprint{{-60, -40}, {60, 40}};
  s.board.assumed_thickness_mm = 20;
  s.board.measured_thickness_mm = 20.1;
  s.board.thickness_error = {0.02, Knowledge::standard};
  s.board.variation_mm = 0.03;
  s.board.swelling_per_percent = 0.002;
  s.board.moisture_change_percent = 1;
  s.board.resin_cup_mm = 0.1;
  s.bed.flatness_mm = 0.1;
  s.flip.dowels = Dowels{0.02, 0.02, 100, Point2{0, 0}, true};
  s.flip.line_error = {0.02, Knowledge::limits};
  s.flip.out_of_square_mm_per_m = 0.1;
  for (SideSetup* side : {&s.inner, &s.outer}) {
    side->touch_off = {0.05, Knowledge::limits};
    side->plate_error_mm = 0.01;
    side->bit = {{0.01, Knowledge::limits}, 3.0,
                 {0.01, Knowledge::limits}, 0.01,
                 BitZero::tool_setter,      {0.01, Knowledge::limits}};
    side->roughing = Roughing{0.2, Uncertain{0.05, Knowledge::limits}};
    side->sanding_mm = 0.05;
    side->sanding = {0.01, Knowledge::limits};
  }
  std::vector<Assumption> assumptions;
  std::vector<CauseId> ids;
  const auto causes = causes_of(s, assumptions);
  for (const Cause& c : causes) {
    CHECK(std::find(ids.begin(), ids.end(), c.id) == ids.end());
    ids.push_back(c.id);
    CHECK(std::isfinite(c.sensitivity(kSlope)));
    CHECK((c.sensitivity_2 != nullptr) ==
          (c.distribution == Distribution::disc || c.field != nullptr));
  }
  // By hand: 11 a side, 4 of the board (both sides touch in one place), 4 of the flip, 2 of wood.
  CHECK(causes.size() == 32);
}
