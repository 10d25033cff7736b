#include "report/words/number_text.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("numbers for people have no minus zero and no more decimals than asked") {
  CHECK(fixed_text(-0.0001, 3) == "0.000");
  CHECK(fixed_text(-0.0, 0) == "0");
  CHECK(fixed_text(-0.0006, 3) == "-0.001");
  CHECK(fixed_text(12345.6789, 1) == "12345.7");
  CHECK(fixed_text(std::nan(""), 3) == "-");
}

TEST_CASE("a wall under the limit is never written as the limit") {
  CHECK(wall_text(0.79996, 0.8) == "0.799");
  CHECK(wall_text(0.8, 0.8) == "0.800");
  CHECK(wall_text(0.80004, 0.8) == "0.800");
  CHECK(wall_text(0.7994, 0.8) == "0.799");
}

TEST_CASE("inches: 25.4 mm each") { // international inch, 1959
  CHECK(inch_text(25.4) == "1.0000");
  CHECK(inch_text(0.8) == "0.0315");
}

TEST_CASE("odds") {
  CHECK(odds_text(0) == "none");
  CHECK(odds_text(0.05) == "1 in 20");
  CHECK(odds_text(0.3) == "1 in 3.3");
  CHECK(odds_text(0.5) == "50 in 100");
  CHECK(odds_text(0.9999) == ">99 in 100");
  CHECK(odds_text(1) == "every time");
}

TEST_CASE("small areas are not nothing") {
  CHECK(area_text(0) == "0.0");
  CHECK(area_text(0.001) == "under 0.1");
  CHECK(area_text(12.34) == "12.3");
}
