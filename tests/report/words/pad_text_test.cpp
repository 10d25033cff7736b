#include "report/words/pad_text.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("a shift that would be shown as nothing is none, the next larger one is") {
  PadRow pad;
  CHECK_FALSE(needs_no_shift(pad)); // nothing was measured
  pad.reading_mm = 0.9;
  CHECK_FALSE(needs_no_shift(pad)); // no shift is worked out: something is wrong
  for (const double none : {0.0, 0.00049, -0.00049}) {
    pad.shift_mm = none;
    CHECK(needs_no_shift(pad));
  }
  for (const double some : {0.00051, -0.00051, 0.2}) {
    pad.shift_mm = some;
    CHECK_FALSE(needs_no_shift(pad));
  }
}
