#include "setup/iso286.h"

#include "base/errors.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using doctest::Approx;

namespace {
void check_fit(const char* fit, double nominal, double least_um, double largest_um) {
  CAPTURE(std::string(fit));
  const FitClearance c = fit_clearance(fit, nominal);
  CHECK(c.least_mm * 1000 == Approx(least_um));
  CHECK(c.largest_mm * 1000 == Approx(largest_um));
}
} // namespace

TEST_CASE("clearance of dowel fits") {
  // ISO 286-2 limits from secondary tables (DIN 6325 pins); clearance is hole minus pin.
  check_fit("H7/h6", 6, 0, 20);
  check_fit("H8/h6", 6, 0, 26);
  check_fit("H7/m6", 6, -12, 8);
  check_fit("H7/h6", 8, 0, 24);
  check_fit("H8/h6", 8, 0, 31);
  check_fit("H7/m6", 8, -15, 9);
  check_fit("H8/m6", 8, -15, 16);
  check_fit("H9/h8", 8, 0, 58);
  check_fit("H11/h8", 6, 0, 93);
  check_fit("H7/h6", 12, 0, 29);
  check_fit("H8/m6", 12, -18, 20);
}

TEST_CASE("bands end at their upper diameter") {
  check_fit("H7/h6", 6.000, 0, 20);
  check_fit("H7/h6", 6.35, 0, 24); // 1/4 in belongs to the next band
  check_fit("H7/h6", 10.0, 0, 24);
  check_fit("H7/h6", 10.001, 0, 29);
  CHECK(tolerance_limits("m6", 6).lower_mm == Approx(0.004));
  CHECK(tolerance_limits("m6", 6.35).upper_mm == Approx(0.015));
}

TEST_CASE("printed tolerances are the standard's formula, rounded") {
  // i = 0.45 D^(1/3) + 0.001 D, D the geometric mean of the band: IT6, IT7, IT8 = 10, 16, 25 i
  // (ISO 286-1, from memory). Rounded to whole micrometres, so within 1 um.
  const double bands[][2] = {{3, 6}, {6, 10}, {10, 18}};
  for (const auto& band : bands) {
    const double d = std::sqrt(band[0] * band[1]), i = .45 * std::cbrt(d) + .001 * d;
    CHECK(std::fabs(tolerance_limits("h6", band[1]).lower_mm * -1000 - 10 * i) < 1);
    CHECK(std::fabs(tolerance_limits("H7", band[1]).upper_mm * 1000 - 16 * i) < 1);
    CHECK(std::fabs(tolerance_limits("H8", band[1]).upper_mm * 1000 - 25 * i) < 1);
  }
}

TEST_CASE("what is not in the table is refused") {
  CHECK_THROWS_WITH_AS(fit_clearance("H6/h6", 6), doctest::Contains("unknown tolerance class"),
                       InputError);
  CHECK_THROWS_WITH_AS(fit_clearance("h6/H7", 6), doctest::Contains("not written as hole/pin"),
                       InputError);
  CHECK_THROWS_AS(fit_clearance("H7", 6), InputError);
  CHECK_THROWS_AS(fit_clearance("", 6), InputError);
  CHECK_THROWS_AS(fit_clearance("H7/h6", 3), InputError);
  CHECK_THROWS_AS(fit_clearance("H7/h6", 20), InputError);
  CHECK_THROWS_AS(fit_clearance("H11/h8", 12), InputError);
  CHECK_THROWS_AS(fit_clearance("H7/h6", std::nan("")), InputError);
}
