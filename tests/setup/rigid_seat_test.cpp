#include "setup_support.h"

#include "setup/rigid_seat.h"

#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

TEST_CASE("a stiff board on a plane, a ridge, one high corner: closed forms") {
  const Footprint f{{-50, -40}, {50, 40}};
  auto plane = rigid_seat(
      *grid_of(50, 40, 3, 3, [](double x, double y) { return 0.1 + 0.002 * x - 0.001 * y; }), f);
  REQUIRE(plane);
  CHECK(plane->slope_x == Approx(0.002));
  CHECK(plane->slope_y == Approx(-0.001));
  CHECK(plane->offset_mm == Approx(0.1));
  // A crown in the middle line x = 0 carries it; along y it is level.
  plane =
      rigid_seat(*grid_of(50, 40, 5, 3, [](double x, double) { return x == 0 ? 0.2 : 0.0; }), f);
  REQUIRE(plane);
  CHECK(plane->at({0, 0}) == Approx(0.2));
  // One corner 0.3 high, three at 0: two diagonals, the higher one carries: middle at 0.15.
  plane = rigid_seat(
      *grid_of(50, 40, 2, 2, [](double x, double y) { return x > 0 && y > 0 ? 0.3 : 0.0; }), f);
  REQUIRE(plane);
  CHECK(plane->at({0, 0}) == Approx(0.15));
}

TEST_CASE("readings that do not surround the middle give no seat") {
  const BedMap bed = BedMap::scattered(std::vector<Vec3>{{10, 10, 0}, {20, 10, 0}, {10, 20, 0.1}});
  CHECK_FALSE(rigid_seat(bed, {{-50, -50}, {50, 50}}));
}

TEST_CASE("against every triple of places: the lowest plane that nothing stands through") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> height(0, 0.3);
  for (int round = 0; round < 60; ++round) {
    const auto bed = grid_of(50, 40, 5, 4, [&](double, double) { return height(random); });
    const auto plane = rigid_seat(*bed, {{-50, -40}, {50, 40}});
    REQUIRE(plane);
    // Oracle: among planes through three readings with none above, the least height at (0, 0).
    const std::vector<Vec3>& p = bed->points();
    double best = 1e9;
    for (std::size_t i = 0; i < p.size(); ++i)
      for (std::size_t j = 0; j < i; ++j)
        for (std::size_t k = 0; k < j; ++k) {
          const Vec3 n = cross(p[j] - p[i], p[k] - p[i]);
          if (std::abs(n.z) < 1e-9)
            continue;
          const auto at = [&](double x, double y) {
            return p[i].z - (n.x * (x - p[i].x) + n.y * (y - p[i].y)) / n.z;
          };
          bool above = false;
          for (const Vec3& q : p)
            above = above || q.z > at(q.x, q.y) + 1e-9;
          if (!above)
            best = std::min(best, at(0, 0));
        }
    CHECK(plane->at({0, 0}) == Approx(best).epsilon(1e-9));
    for (const Vec3& q : p)
      CHECK(q.z <= plane->at({q.x, q.y}) + 1e-9);
  }
}

TEST_CASE("seating not known: the thinner of the two at each place") {
  Setup s;
  s.board.footprint = Footprint{{-50, -40}, {50, 40}};
  s.bed.readings =
      grid_of(50, 40, 5, 5, [](double x, double y) { return x == 0 && y == 0 ? 0.2 : 0.0; });
  s.side_a.touch_point = s.side_b.touch_point = Point2{50, 40};
  const auto change = [&](Seating seating, double x) {
    s.bed.seating = seating;
    return known_change(s, flat_point(x, 0, 9, 1));
  };
  for (const double x : {0.0, 25.0, -50.0}) {
    const double pressed = change(Seating::pressed, x), rigid = change(Seating::rigid, x);
    CHECK(change(Seating::unknown, x) <= std::min(pressed, rigid) + 1e-12);
  }
  CHECK(change(Seating::pressed, 0) == Approx(-0.4));
  // Zero on the bed: the whole stiff board is lifted by the crown, also where the bed is low.
  s.side_a.zero = s.side_b.zero = ZeroFrom::bed;
  CHECK(change(Seating::pressed, 25) == Approx(0).epsilon(1e-12));
  CHECK(change(Seating::rigid, 0) == Approx(-0.4));
}
