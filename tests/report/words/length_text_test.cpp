#include "report/words/length_text.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {
const LengthText kMm{false}, kInch{true};
}

TEST_CASE("a length in inches stands before its millimetres") {
  CHECK(kMm.length(0.35) == "0.350 mm");
  CHECK(kInch.length(0.35) == "0.0138 in (0.350 mm)"); // 0.35 / 25.4 = 0.013779...
  CHECK(kInch.length(15, 0) == "0.591 in (15 mm)");
  CHECK(kInch.length(45.12, 2) == "1.7764 in (45.12 mm)");
  CHECK(kInch.change(0.12) == "+0.0047 in (+0.120 mm)");
  CHECK(kInch.change(-0.12) == "-0.0047 in (-0.120 mm)");
  CHECK(kMm.change(0) == "0.000 mm");
  CHECK(kInch.wall(0.79996, 0.8) == "0.0314 in (0.799 mm)"); // 0.0315 would be the limit
  CHECK(kInch.area(100) == "0.1550 in2 (100.0 mm2)");        // 645.16 mm2 an in2
  CHECK(kInch.area(0.01) == "under 0.0001 in2 (under 0.1 mm2)");
  CHECK(kInch.place(Vec3{25.4, -12.7, 0}) ==
        "x 1.000 y -0.500 z 0.000 in (x 25.4 y -12.7 z 0.0 mm)");
  CHECK(kInch.place(Point2{25.4, -12.7}) == "x 1.000 y -0.500 in (x 25.4 y -12.7 mm)");
  CHECK(kInch.number(2.54, 2) == "0.1000");
}

TEST_CASE("a sentence in millimetres gets its inches, number by number or shared by a group") {
  const auto told = [](const char* text) { return kInch.sentence(text); };
  CHECK(kMm.sentence("within 0.05 mm at x 1.0") == "within 0.05 mm at x 1.0");
  CHECK(told("within 0.05 mm.") == "within 0.0020 in (0.05 mm).");
  CHECK(told("+-0.040 mm") == "+-0.0016 in (+-0.040 mm)");
  CHECK(told("u 0.030 mm, 0 to 0.050 mm") ==
        "u 0.0012 in (0.030 mm), 0 to 0.0020 in (0 to 0.050 mm)");
  CHECK(told("touched at x 13.8 y -40.0 (the bed there)") ==
        "touched at x 0.543 y -1.575 in (x 13.8 y -40.0 mm) (the bed there)");
  CHECK(told("over x -60 to 60, y -45 to 45 of the bed") ==
        "over x -2.362 to 2.362, y -1.772 to 1.772 in (x -60 to 60, y -45 to 45 mm) of the bed");
  CHECK(told("The model (x -1.0 to 1.0, y 2.0 to 3.0 mm) reaches") ==
        "The model (x -0.039 to 0.039, y 0.079 to 0.118 in = x -1.0 to 1.0, y 2.0 to 3.0 mm) "
        "reaches");
  CHECK(told("80.0 x 60.0 x 20.0 mm") == "3.150 x 2.362 x 0.787 in (80.0 x 60.0 x 20.0 mm)");
  CHECK(told("15 by 15 mm") == "0.591 by 0.591 in (15 by 15 mm)");
  CHECK(told("z = -10.000 mm") == "z = -0.3937 in (-10.000 mm)");
  CHECK(told("100.0 mm2 of skin") == "0.1550 in2 (100.0 mm2) of skin");
  CHECK(told("+-0.100 mm/m") == "+-0.0012 in per ft (+-0.100 mm/m)"); // 12 in a foot / 1000
  CHECK(told("Flip at y 0.0, dowels 90.0 mm apart") ==
        "Flip at y 0.000 in (y 0.0 mm), dowels 3.543 in (90.0 mm) apart");
  CHECK(
      told("a dowel at x 0.0 y -15.0 and x 0.0 y 15.0: no") ==
      "a dowel at x 0.000 y -0.591 and x 0.000 y 0.591 in (x 0.0 y -15.0 and x 0.0 y 15.0 mm): no");
}

TEST_CASE("a sentence keeps what is no length, and what has its inches already") {
  for (const char* text : {"1 in 20 pieces", "8 edges with one facet", "0.05 for accepted_chance",
                           "2.0 % moisture", "x 2a", "0.0138 in (0.350 mm)",
                           "(x 1.000 in = x 25.4 mm)", "x 1.000 y -0.500 in (x 25.4 y -12.7 mm)",
                           "20000 trials", "mm", "", "x", "- 3", "0.0350 in", "3mm", "1.2.3 mm"})
    CHECK(kInch.sentence(text) == text);
  const std::string once = kInch.sentence("0.5 mm, x 1 y 2, 3.0 mm2 and 0.1 mm/m");
  CHECK(kInch.sentence(once) == once);
}
