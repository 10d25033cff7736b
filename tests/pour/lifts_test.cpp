#include "pour/lifts.h"

#include "pour/volume_below.h"
#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

TEST_CASE("exact multiples give no extra lift, anything beyond them does") {
  CHECK(lift_count(50, 12.5) == 4);
  CHECK(lift_count(50.0001, 12.5) == 5);
  CHECK(lift_count(49.9999, 12.5) == 4);
  CHECK(lift_count(0, 12.5) == 0);
  CHECK(lift_count(12.5, 12.5) == 1);
  CHECK(lift_count(1, 50) == 1);
  // 2 in of 1/2 in, and 0.3 of 0.1, whose quotient is over 3 in binary.
  CHECK(lift_count(2 * 25.4, 0.5 * 25.4) == 4);
  CHECK(lift_count(0.3, 0.1) == 3);
  CHECK(lift_count(static_cast<double>(25.1F), 25.1 / 7) == 7);
  CHECK(lift_count(1e5, 1e-9) >= kMaxLifts);
}

// pi h^2 (3 r - h) / 3 for the cap, 2/3 pi r^3 less that for what stands over it: equal in depth,
// far from equal in volume.
TEST_CASE("a hemisphere of 25 mm in two lifts") {
  const WetSurface wet = wet_surface(bowl({0, 0, 40}, 25, 512, 256), 40);
  const std::vector<Lift> lifts = lifts_of(wet, 2, {});
  REQUIRE(lifts.size() == 2);
  CHECK(lifts[0].volume_mm3 == Approx(10226.54).epsilon(2e-4));
  CHECK(lifts[1].volume_mm3 == Approx(22498.38).epsilon(2e-4));
  CHECK(lifts[0].volume_mm3 + lifts[1].volume_mm3 == Approx(32724.92).epsilon(2e-4));
  CHECK(lifts[0].from_z_mm == Approx(15));
  CHECK(lifts[0].to_z_mm == Approx(27.5));
  CHECK(lifts[1].to_z_mm == 40);
  CHECK(lifts[0].pools == 1);
}

TEST_CASE("lifts add up to the pocket, each as deep as the others") {
  const WetSurface wet = wet_surface(spike({0, 0, -21}, 30, 0), 0);
  for (const std::size_t n : {1U, 3U, 7U, 50U}) {
    const std::vector<Lift> lifts = lifts_of(wet, n, {});
    REQUIRE(lifts.size() == n);
    double sum = 0;
    for (std::size_t i = 0; i < n; ++i) {
      // Between two depths of a pyramid: the difference of cubes.
      const double a = static_cast<double>(i) / static_cast<double>(n),
                   b = static_cast<double>(i + 1) / static_cast<double>(n);
      CHECK(lifts[i].volume_mm3 == Approx(60 * 60 * 7 * (b * b * b - a * a * a)).epsilon(1e-9));
      CHECK(lifts[i].to_z_mm - lifts[i].from_z_mm == Approx(21.0 / static_cast<double>(n)));
      sum += lifts[i].volume_mm3;
    }
    CHECK(sum == Approx(60 * 60 * 7).epsilon(1e-12));
  }
}
