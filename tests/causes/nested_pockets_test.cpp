// Walls between two cuts of side A: a pocket cut into the cured resin of another one. Against an
// independent model of three cuts on columns, and against surfaces that were really displaced.
#include "causes/setup_support.h"

#include "base/assumption.h"
#include "causes/model/cuts.h"
#include "setup/number_data.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>
#include <utility>
#include <vector>

using namespace leastwall;
using namespace leastwall::test;

namespace {

constexpr double kHx = 60, kHy = 40;
constexpr int kNx = 7, kNy = 5;

/// The wall of resin between the first pocket (outer) and one cut into it later (inner).
Setup resin_wall() {
  Setup s;
  s.board.footprint = Footprint{{-kHx, -kHy}, {kHx, kHy}};
  s.inner_cut = {.side = Side::a, .set_up = 1, .touch = 1};
  s.outer_cut = {.side = Side::a, .set_up = 0};
  s.of_fill = true;
  s.inner.touch_point = s.outer.touch_point = Point2{-20, 20};
  return s;
}

std::vector<Cause> causes_in(const Setup& setup) {
  std::vector<Assumption> ignored;
  return causes_of(setup, ignored);
}

std::size_t count_of(const std::vector<Cause>& causes, CauseKind kind) {
  return static_cast<std::size_t>(
      std::ranges::count_if(causes, [kind](const Cause& c) { return c.id.kind == kind; }));
}

Dowels pins(double clearance_mm) {
  Dowels pins;
  pins.clearance_1_mm = pins.clearance_2_mm = clearance_mm;
  pins.spacing_mm = 100;
  return pins;
}

double known(const Setup& setup, const WallSample& p) {
  double sum = 0;
  for (const Cause& c : causes_in(setup))
    if (c.distribution == Distribution::shift)
      sum += c.sensitivity(p) * c.size;
  return sum;
}

} // namespace

TEST_CASE(
    "nested pockets forgive the bed: on the same pins and touched at the same point it and the "
    "board cancel") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> height(-0.3, 0.3), place(-30, 30);
  for (const Seating seating : {Seating::pressed, Seating::unknown})
    for (const ZeroFrom zero : {ZeroFrom::top, ZeroFrom::bed}) {
      Setup s = resin_wall();
      s.inner.zero = s.outer.zero = zero;
      s.bed.seating = seating;
      s.bed.readings = grid_of(kHx, kHy, 3, 3, [&](double x, double y) {
        return 0.004 * x - 0.002 * y + (x == 0 && y == 0 ? 0.2 : 0); // a crown: it rests on that
      });
      s.bed.reading_error = {0.02, Knowledge::limits};
      s.board.thickness_readings =
          grid_of(kHx, kHy, 3, 3, [&](double, double) { return 20 + height(random); });
      s.board.assumed_thickness_mm = 20;
      s.board.thickness_error = {0.2, Knowledge::limits};
      s.inner.touch_off = s.outer.touch_off = {0.05, Knowledge::limits};
      const std::vector<Cause> causes = causes_in(s);
      if (seating == Seating::pressed) {
        // Left over are the two touch-offs.
        REQUIRE(causes.size() == 2);
        CHECK(causes[0].id == CauseId{CauseKind::touch_off, Side::a, 0, false, 1});
        CHECK(causes[1].id == CauseId{CauseKind::touch_off, Side::a, 0, false, 0});
      }
      for (int i = 0; i < 50; ++i)
        CHECK(known(s, flat_point(place(random), place(random), 8, 2)) <= 0); // rocking may thin
      const WallSample floor = flat_point(5, 5, 8, 2);
      if (seating == Seating::pressed)
        CHECK(std::abs(known(s, floor)) <= 1e-9);
      // Deeper than drawn at the first cut leaves more resin, at the second less.
      for (const Cause& c : causes)
        if (c.id.kind == CauseKind::touch_off)
          CHECK(c.sensitivity(floor) == (c.id.set_up == 1 ? 1 : -1));
    }
}

TEST_CASE("a bed of one number: nothing at the same datum, once its flatness between two points") {
  Setup s = resin_wall();
  s.bed.flatness_mm = 0.1;
  CHECK(count_of(causes_in(s), CauseKind::bed_flatness) == 0);
  s.inner.touch_point = Point2{20, 20};
  const std::vector<Cause> causes = causes_in(s);
  REQUIRE(count_of(causes, CauseKind::bed_flatness) == 1);
  CHECK(causes[0].size == 0.1);
  CHECK(std::abs(causes[0].sensitivity(flat_point(0, 0, 8, 2))) == 1);
  s.inner.touch_point = s.outer.touch_point;
  s.inner.zero = ZeroFrom::bed; // from the bed under the same point: what the board hangs from
  CHECK(count_of(causes_in(s), CauseKind::bed_flatness) == 1);
}

TEST_CASE(
    "a bit that makes both cuts is as large for both: its radius cancels, another bit's adds") {
  Setup s = resin_wall();
  s.inner.bit.ball_radius_mm = s.outer.bit.ball_radius_mm = 1.5;
  s.inner.bit.radius = s.outer.bit.radius = {0.02, Knowledge::limits};
  s.inner.bit.runout_mm = s.outer.bit.runout_mm = 0.03;
  const WallSample steep{{10, 0, -8}, {0.8, 0, -0.6}, 2};
  std::vector<Cause> causes = causes_in(s);
  REQUIRE(causes.size() == 2);
  for (const Cause& c : causes)
    CHECK(std::abs(c.sensitivity(steep)) <= 1e-15);
  s.inner_cut.bit = 1;
  causes = causes_in(s);
  REQUIRE(causes.size() == 4);
  // The inner cut takes resin, the outer one made room for it: 1 - |n_z| and sqrt(1 - n_z^2).
  CHECK(causes[0].sensitivity(steep) == doctest::Approx(-0.4));
  CHECK(causes[1].sensitivity(steep) == doctest::Approx(-0.8));
  CHECK(causes[2].sensitivity(steep) == doctest::Approx(0.4));
  CHECK(causes[3].sensitivity(steep) == doctest::Approx(0.8));
}

TEST_CASE(
    "put back on the pins: play for each set-up but the first, and for the skin turned over") {
  Setup s = resin_wall();
  s.flip.dowels = pins(0.04);
  s.flip.out_of_square_mm_per_m = 1;
  const std::vector<Cause> resin = causes_in(s);
  CHECK(count_of(resin, CauseKind::dowel_play) == 2);
  CHECK(count_of(resin, CauseKind::out_of_square) == 0); // it leans as before
  // Skin to a later pocket: both the skin's seat and that pocket's.
  Setup wood = s;
  wood.of_fill = false;
  wood.outer_cut = {.side = Side::b};
  const std::vector<Cause> skin = causes_in(wood);
  CHECK(count_of(skin, CauseKind::dowel_play) == 4);
  const WallSample right{{10, 5, -8}, {1, 0, 0}, 2};
  for (const Cause& c : skin)
    if (c.id.kind == CauseKind::dowel_play)
      // In the middle of the pins each moves the board by a quarter of its play: the skin towards
      // n, the pocket against it.
      CHECK(c.sensitivity_2({{0, 0, -8}, {1, 0, 0}, 2}) ==
            doctest::Approx(c.id.side ? 0.25 : -0.25).epsilon(1e-12));
  CHECK(resin[0].sensitivity_2(right) != 0);
  // The first pocket has no seat of its own.
  wood.inner_cut = {.side = Side::a};
  CHECK(count_of(causes_in(wood), CauseKind::dowel_play) == 2);
}

TEST_CASE("edges that are found anew shift a board that is put back") {
  Setup s = resin_wall();
  s.flip.located_by = LocatedBy::edges;
  s.flip.line_error = {0.05, Knowledge::limits};
  REQUIRE(count_of(causes_in(s), CauseKind::flip_line) == 1);
  CHECK(causes_in(s)[0].sensitivity({{0, 0, -8}, {1, 0, 0}, 2}) == -2);
  s.flip.located_by = LocatedBy::dowels;
  CHECK(count_of(causes_in(s), CauseKind::flip_line) == 0);
}

namespace {

/// Three cuts on columns of wood, in the order of time; heights over the bed's zero. It knows
/// nothing of sensitivities.
struct Columns {
  double bed[kNx][kNy] = {}, board[kNx][kNy] = {};
  double swell_2 = 0, swell_3 = 0; ///< of the wood when the second and the third cut are made
};

struct Cut {
  ZeroFrom zero = ZeroFrom::top;
  int i = 0, j = 0;    ///< touch column
  double error = 0;    ///< too shallow
  double program = 20; ///< thickness it was made for
};

struct ThreeWalls {
  double resin = 0, skin_to_first = 0, skin_to_second = 0; ///< between the floors, and to the skin
};

/// Floors `depth_1` and `depth_2` under the pocket face, skin `depth_3` under it, as drawn.
ThreeWalls cut_three(const Columns& c, const Cut& first, const Cut& second, const Cut& third, int i,
                     int j, double depth_1, double depth_2, double depth_3) {
  const auto floor_over_skin_face = [&](const Cut& cut, double depth, double swell) {
    const double datum = cut.zero == ZeroFrom::top
                             ? c.bed[cut.i][cut.j] + c.board[cut.i][cut.j] * (1 + swell) - depth
                             : c.bed[cut.i][cut.j] + cut.program - depth;
    return datum + cut.error - c.bed[i][j];
  };
  const double floor_1 = floor_over_skin_face(first, depth_1, 0) * (1 + c.swell_2);
  const double floor_2 = floor_over_skin_face(second, depth_2, c.swell_2);
  ThreeWalls walls;
  walls.resin = floor_2 - floor_1;
  // Turned over about x = 0; the pocket face on the bed.
  const int m = kNx - 1 - i, touched = kNx - 1 - third.i;
  const double bed_here = c.bed[m][j], bed_there = c.bed[touched][third.j];
  const double thick_here = c.board[i][j] * (1 + c.swell_3);
  const double thick_there = c.board[third.i][third.j] * (1 + c.swell_3);
  const double skin_over_bed_zero = third.zero == ZeroFrom::top
                                        ? bed_there + thick_there - (third.program - depth_3)
                                        : bed_there + depth_3;
  const double skin_over_pocket_face = skin_over_bed_zero + third.error - bed_here;
  const double skin_over_skin_face = thick_here - skin_over_pocket_face;
  walls.skin_to_first = floor_1 * (1 + c.swell_3) / (1 + c.swell_2) - skin_over_skin_face;
  walls.skin_to_second = floor_2 * (1 + c.swell_3) / (1 + c.swell_2) - skin_over_skin_face;
  return walls;
}

struct Job {
  Columns columns;
  Cut cuts[3];
  Setup resin, first, second; ///< the three walls
};

double column_x(int i) {
  return -kHx + 2 * kHx * i / (kNx - 1);
}
double column_y(int j) {
  return -kHy + 2 * kHy * j / (kNy - 1);
}

/// A random job; all its errors are `scale` of their usual size.
Job random_job(std::mt19937& random, bool swells, double scale) {
  const auto pick = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const auto below = [&](int n) { return std::uniform_int_distribution<int>(0, n - 1)(random); };
  Job job;
  Columns& c = job.columns;
  for (int i = 0; i < kNx; ++i)
    for (int j = 0; j < kNy; ++j) {
      c.bed[i][j] = pick(-0.2, 0.2) * scale;
      c.board[i][j] = 20 + pick(-0.2, 0.2) * scale;
    }
  if (swells) {
    c.swell_2 = pick(-0.004, 0.004) * scale;
    c.swell_3 = pick(-0.004, 0.004) * scale;
  }
  Setup all;
  all.board.footprint = Footprint{{-kHx, -kHy}, {kHx, kHy}};
  all.board.assumed_thickness_mm = 20;
  all.bed.seating = Seating::pressed;
  int at = 0;
  all.bed.readings = grid_of(kHx, kHy, kNx, kNy, [&](double, double) {
    const int n = at++;
    return c.bed[n % kNx][n / kNx];
  });
  at = 0;
  all.board.thickness_readings = grid_of(kHx, kHy, kNx, kNy, [&](double, double) {
    const int n = at++;
    return c.board[n % kNx][n / kNx];
  });
  all.board.swelling_per_percent = 0.001;
  all.board.moisture_change_percent = 1000 * c.swell_3;
  SideSetup how[3];
  for (int k = 0; k < 3; ++k) {
    Cut& cut = job.cuts[k];
    cut = {below(2) == 0 ? ZeroFrom::top : ZeroFrom::bed, below(kNx), below(kNy),
           pick(-0.1, 0.1) * scale, 20};
    how[k].zero = cut.zero;
    how[k].touch_point = Point2{column_x(cut.i), column_y(cut.j)};
    // Exactly this error, as a touch plate that much thicker.
    how[k].plate_error_mm = cut.error;
  }
  how[1].moisture_gain_percent = 1000 * c.swell_2;
  job.resin = job.first = job.second = all;
  job.resin.inner = how[1];
  job.resin.outer = how[0];
  job.resin.inner_cut = {.side = Side::a, .set_up = 1, .touch = 1};
  job.resin.outer_cut = {.side = Side::a};
  job.resin.of_fill = true;
  job.first.inner = how[0];
  job.first.outer = how[2];
  job.second.inner = how[1];
  job.second.inner_cut.set_up = job.second.inner_cut.touch = 1;
  job.second.outer = how[2];
  return job;
}

/// Largest difference between the columns and the sensitivities over random jobs.
double largest_difference(bool swells, double scale, int rounds) {
  std::mt19937 random(17);
  double largest = 0;
  for (int round = 0; round < rounds; ++round) {
    const Job job = random_job(random, swells, scale);
    std::uniform_int_distribution<int> x(0, kNx - 1), y(0, kNy - 1);
    const int i = x(random), j = y(random);
    const double depth_1 = 12, depth_2 = 9.5, depth_3 = 12.8;
    const ThreeWalls walls = cut_three(job.columns, job.cuts[0], job.cuts[1], job.cuts[2], i, j,
                                       depth_1, depth_2, depth_3);
    const auto differs = [&](const Setup& setup, double floor, double outer, double cut) {
      const WallSample p{{column_x(i), column_y(j), -outer}, {0, 0, -1}, outer - floor};
      largest = std::max(largest, std::abs(outer - floor + known(setup, p) - cut));
    };
    differs(job.resin, depth_2, depth_1, walls.resin);
    differs(job.first, depth_1, depth_3, walls.skin_to_first);
    differs(job.second, depth_2, depth_3, walls.skin_to_second);
  }
  return largest;
}

} // namespace

TEST_CASE("hundreds of jobs of three cuts: columns of wood agree with the sensitivities") {
  // Without swelling the model is linear: exact.
  CHECK(largest_difference(false, 1, 600) < 1e-9);
  // With it products of errors are left out: with swelling of 0.4 % and errors of 0.2 mm some
  // micrometres, and ten times smaller errors agree a hundred times better.
  const double whole = largest_difference(true, 1, 300), tenth = largest_difference(true, 0.1, 300);
  CHECK(whole < 0.007);
  CHECK(whole > 1e-6);
  CHECK(tenth < whole / 80);
}

TEST_CASE("surfaces really displaced: two half balls, one in the other") {
  // Distance from a point of the outer ball to the inner one is |p - c| - r: closed form.
  const double r_inner = 20, r_outer = 23;
  Setup s = resin_wall();
  s.inner.touch_off = s.outer.touch_off = {1, Knowledge::limits};
  s.flip.dowels = pins(4);
  const std::vector<Cause> causes = causes_in(s);
  const double e = 1e-5;
  for (const double fall : {0.2, 0.7, 1.2, 1.5})
    for (const double turn : {0.3, 1.9, 4.4}) {
      const Vec3 n{std::sin(fall) * std::cos(turn), std::sin(fall) * std::sin(turn),
                   -std::cos(fall)};
      const WallSample p{n * r_outer, n, r_outer - r_inner};
      const auto wall = [&](Vec3 inner, Vec3 outer) {
        return length(p.at + outer - inner) - r_inner;
      };
      for (const Cause& c : causes) {
        if (c.id.kind == CauseKind::touch_off) {
          const Vec3 up{0, 0, e};
          const double changed = c.id.set_up == 1 ? wall(up, {}) : wall({}, up);
          CHECK((changed - p.wall_mm) / e == doctest::Approx(c.sensitivity(p)).epsilon(1e-4));
        } else {
          // Both pins the same way, along the flip line (y): the inner pocket moves by half the
          // clearance that is one of them.
          const double changed = wall({0, e, 0}, {});
          CHECK((changed - p.wall_mm) / e == doctest::Approx(4 * c.sensitivity(p)).epsilon(1e-4));
        }
      }
    }
}
