// No cause changes a wall by more than its bound says: whatever the set-up, the place, the slope.
#include "causes/model/change_bound.h"

#include "base/assumption.h"
#include "base/maths/hypot.h"
#include "bed/bed_map.h"
#include "causes/causes.h"
#include "causes/model/join_same.h"
#include "causes/setup_support.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <map>
#include <random>

using namespace leastwall;
using namespace leastwall::test;

namespace {

class Random {
 public:
  explicit Random(unsigned seed) : engine_(seed) {}
  double pick(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(engine_);
  }
  bool coin() { return std::uniform_int_distribution<int>(0, 1)(engine_) == 1; }
  Point2 on_board() { return {pick(-60, 60), pick(-40, 40)}; }

 private:
  std::mt19937 engine_;
};

std::shared_ptr<const BedMap> any_readings(Random& random, double middle, double most) {
  return grid_of(60, 40, 4, 3, [&](double, double) { return middle + random.pick(-most, most); });
}

SideSetup any_side(Random& random) {
  SideSetup side;
  side.zero = random.coin() ? ZeroFrom::top : ZeroFrom::bed;
  side.touch_point = random.on_board();
  side.touch_off = {0.05, random.coin() ? Knowledge::limits : Knowledge::standard};
  side.plate_error_mm = random.pick(-0.1, 0.1);
  side.bit.zero = random.coin() ? BitZero::tool_setter : BitZero::retouched;
  side.bit.setter = {0.02, Knowledge::limits};
  side.bit.tip_height = {0.03, Knowledge::limits};
  side.bit.radius = {0.01, Knowledge::limits};
  side.bit.ball_radius_mm = 1.5;
  side.bit.runout_mm = 0.02;
  if (random.coin())
    side.roughing = Roughing{0.05, Uncertain{0.08, Knowledge::limits}};
  side.sanding_mm = 0.05;
  side.sanding = {0.02, Knowledge::limits};
  side.assumed_thickness_mm = random.pick(39, 41);
  if (random.coin())
    side.moisture_gain_percent = random.pick(-1, 2);
  return side;
}

/// With errors of every kind, and often two cuts of one side.
Setup any_setup(Random& random) {
  Setup s;
  s.board.footprint = Footprint{{-60, -40}, {60, 40}};
  s.inner = any_side(random);
  s.outer = any_side(random);
  if (random.coin())
    s.board.thickness_readings = any_readings(random, 40, 0.3);
  else
    s.board.measured_thickness_mm = random.pick(39, 41);
  s.board.thickness_error = {0.1, Knowledge::limits};
  s.board.variation_mm = 0.05;
  s.board.swelling_per_percent = 0.002;
  s.board.moisture_change_percent = random.pick(-2, 2);
  s.board.resin_cup_mm = random.pick(0, 0.3);
  if (random.coin()) {
    s.bed.readings = any_readings(random, 0, 0.2);
    s.bed.reading_error = {0.01, Knowledge::limits};
    s.bed.seating = random.coin()   ? Seating::rigid
                    : random.coin() ? Seating::pressed
                                    : Seating::unknown;
  } else {
    s.bed.flatness_mm = 0.1;
  }
  s.flip.line = random.coin() ? FlipLine::along_x : FlipLine::along_y;
  s.flip.at_mm = random.pick(-5, 5);
  s.flip.line_error = {0.05, Knowledge::limits};
  s.flip.out_of_square_mm_per_m = 0.3;
  if (random.coin()) {
    Dowels dowels;
    dowels.spacing_mm = random.pick(60, 120);
    dowels.clearance_1_mm = 0.03;
    dowels.clearance_2_mm = 0.05;
    dowels.along_flip_line = random.coin();
    s.flip.dowels = dowels;
    s.flip.located_by = LocatedBy::dowels;
  } else {
    s.flip.located_by = LocatedBy::edges;
  }
  if (random.coin()) { // a second pocket, cut with the same face up in a set-up of its own
    s.outer_cut.side = Side::a;
    s.outer_cut.set_up = s.outer_cut.touch = s.outer_cut.datum = 1;
    s.outer_in_fill = random.coin();
  }
  s.has_land = random.coin();
  s.top_z_mm = 0;
  return s;
}

/// What one unit of it changes there at most.
double change_of(const Cause& cause, const WallSample& p) {
  if (cause.distribution == Distribution::disc)
    return maths::hypot(cause.sensitivity(p), cause.sensitivity_2(p));
  return std::abs(cause.sensitivity(p));
}

} // namespace

TEST_CASE("no cause changes a wall by more than its bound, and the bound is not far off") {
  Random random(31);
  std::map<CauseKind, double> nearest; // by kind: the largest part of its bound that was met
  for (int round = 0; round < 400; ++round) {
    const Setup s = any_setup(random);
    std::vector<Assumption> assumptions;
    const std::vector<Cause> causes = causes_of(s, assumptions);
    Places places;
    places.at.add(Vec3{random.pick(-58, -40), random.pick(-38, -20), random.pick(-38, -30)});
    places.at.add(Vec3{random.pick(40, 58), random.pick(20, 38), 0});
    places.most_wall_mm = 2;
    for (const Cause& cause : causes) {
      REQUIRE(cause.bound);
      const double bound = cause.bound(places);
      double most = 0;
      for (int sample = 0; sample < 60; ++sample) {
        // Anywhere, and often where changes are largest: corners, straight down, level.
        const auto along = [&](double low, double high) {
          const double at = random.pick(-0.5, 1.5);
          return low + (high - low) * std::clamp(at, 0.0, 1.0);
        };
        const double slope = std::clamp(random.pick(-1, 3), 0.0, 2.0) * std::numbers::pi / 4;
        const double turn = std::floor(random.pick(0, 8)) * std::numbers::pi / 4;
        WallSample p;
        p.at = {along(places.at.low.x, places.at.high.x), along(places.at.low.y, places.at.high.y),
                along(places.at.low.z, places.at.high.z)};
        p.n = {std::sin(slope) * std::cos(turn), std::sin(slope) * std::sin(turn),
               -std::cos(slope)};
        p.wall_mm = random.coin() ? random.pick(0, 2) : 2.0;
        if (s.has_land && random.coin()) { // straight up to the pocket face
          p.n = {0, 0, -1};
          p.wall_mm = std::min(2.0, -p.at.z);
        }
        most = std::max(most, change_of(cause, p));
        for (const Sensitivity& way : cause.ways)
          most = std::max(most, std::abs(way(p)));
      }
      CHECK(most <= bound * (1 + 1e-12) + 1e-12);
      if (bound > 0)
        nearest[cause.id.kind] = std::max(nearest[cause.id.kind], most / bound);
    }
  }
  CHECK(nearest.size() >= 22); // every kind of the set-up, not those of the pad and the glue-up
  for (const auto& [kind, part] : nearest) {
    CAPTURE(static_cast<int>(kind));
    CHECK(part > 0.5);
    CHECK(part <= 1 + 1e-9);
  }
}

TEST_CASE("one point touched for both sides may change a wall by twice what lies under it") {
  Setup s;
  s.board.footprint = Footprint{{-60, -40}, {60, 40}};
  s.board.measured_thickness_mm = 40;
  s.inner.assumed_thickness_mm = s.outer.assumed_thickness_mm = 40;
  s.inner.zero = s.outer.zero = ZeroFrom::top;
  s.inner.touch_point = s.outer.touch_point = Point2{0, 0};
  s.board.variation_mm = 0.05;
  std::vector<Assumption> assumptions;
  Places places;
  places.at.add(Vec3{-50, -30, -30});
  places.at.add(Vec3{50, 30, 0});
  for (const Cause& cause : causes_of(s, assumptions))
    if (cause.id.kind == CauseKind::board_at_touch) // twice from one point: 2 by hand
      CHECK(cause.bound(places) == 2);
}

TEST_CASE("a bound of causes that are joined is their sum; where one is not known it is not") {
  const auto joined = [](ChangeBound first, ChangeBound second) {
    std::vector<Cause> causes(2);
    for (Cause& cause : causes) {
      cause.id = {CauseKind::touch_off, Side::a};
      cause.sensitivity = [](const WallSample&) { return 1.0; };
    }
    causes[0].bound = std::move(first);
    causes[1].bound = std::move(second);
    join_same(causes);
    REQUIRE(causes.size() == 1);
    return causes[0].bound;
  };
  CHECK(joined(at_most(1), at_most(2.5))({}) == 3.5);
  CHECK_FALSE(joined(at_most(1), {}));
  CHECK_FALSE(joined({}, at_most(1)));
}
