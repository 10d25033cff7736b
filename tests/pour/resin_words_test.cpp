#include "pour/resin_words.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using doctest::Approx;

TEST_CASE("ratios as data sheets write them") {
  using Pair = std::pair<double, double>;
  CHECK(ratio_from_text("2:1") == Pair{2, 1});
  CHECK(ratio_from_text(" 100 : 45 ") == Pair{100, 45});
  CHECK(ratio_from_text("1:0.83") == Pair{1, 0.83});
  CHECK(ratio_from_text("1:0,83") == Pair{1, 0.83});
  for (const char* text : {"", "2", "2:", ":1", "2/1", "2:1:1", "0:1", "2:0", "-2:1",
                           "2:1 by volume", "two to one", "1e9:1", "nan:1", "2 1"}) {
    CAPTURE(text);
    CHECK_FALSE(ratio_from_text(text));
  }
}

TEST_CASE("slopes: mm a metre, inches a foot, degrees, percent") {
  CHECK(*slope_from_text("2 mm/m") == Approx(0.002));
  CHECK(*slope_from_text("0,5 mm per m") == Approx(0.0005));
  CHECK(*slope_from_text("1/4 in/ft") == Approx(0.25 / 12));
  CHECK(*slope_from_text("0.1deg") == Approx(std::tan(0.1 * std::numbers::pi / 180)));
  CHECK(*slope_from_text("20 deg") == Approx(std::tan(std::numbers::pi / 9)));
  CHECK(*slope_from_text("1 %") == Approx(0.01));
  for (const char* text : {"", "2", "2 mm", "0 mm/m", "-1 mm/m", "21 deg", "95 deg", "200 deg",
                           "2 mm/m x", "level", "50 %", "inf mm/m"}) {
    CAPTURE(text);
    CHECK_FALSE(slope_from_text(text));
  }
}
