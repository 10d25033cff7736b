#include "setup/resurfacing.h"

#include "base/errors.h"

#include <doctest/doctest.h>

using namespace leastwall;
using doctest::Approx;

TEST_CASE("residual flatness: stated, from the tram, or usual") {
  Resurfacing r;
  CHECK(residual_flatness(r).mm == kUsualResidual);
  // Plane geometry by hand calculator: 0.10 mm on a 200 mm swing is 0.0286479 degrees; at 15 mm a
  // pass that leaves 15 tan(0.0286479) = 0.0075 mm.
  r.tram_reading_mm = 0.10;
  r.tram_swing_mm = 200;
  r.cutter_mm = 25;
  CHECK(residual_flatness(r).mm == kUsualResidual); // no stepover, no ridges
  r.stepover_mm = 15;
  CHECK(residual_flatness(r).mm == Approx(0.0075).epsilon(1e-6));
  r.stepover_mm = 30; // wider than the cutter
  CHECK_THROWS_AS(residual_flatness(r), InputError);
  r.residual_mm = 0.02;
  CHECK(residual_flatness(r).mm == 0.02);
  CHECK(residual_flatness(r).from == "as stated");
}
