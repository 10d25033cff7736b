#include "bed/tram.h"

#include "base/errors.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using doctest::Approx;

TEST_CASE("dish, cusp and saw-tooth of a leaning cutter") {
  // Plane geometry, worked out by hand calculator: R sin(t), sin(t)(R - sqrt(R^2 - s^2/4)), s
  // tan(t).
  struct Row {
    double d, deg, s, dish, cusp, saw;
  };
  for (const Row& r : {Row{25, .05, 15, .0109083, .00218166, .0130900},
                       Row{25, .10, 15, .0218166, .00436332, .0261800},
                       Row{25, .10, 25, .0218166, .0218166, .0436333},
                       Row{25.4, .10, 19.05, .0221657, .00750446, .0332486},
                       Row{50, .05, 40, .0218166, .00872665, .0349066}}) {
    const TramMarks m = tram_marks({r.d, r.s, r.deg});
    CHECK(m.dish_mm == Approx(r.dish).epsilon(1e-5));
    CHECK(m.cusp_mm == Approx(r.cusp).epsilon(1e-5));
    CHECK(m.saw_tooth_mm == Approx(r.saw).epsilon(1e-5));
    CHECK(tram_marks({r.d, r.s, -r.deg}).saw_tooth_mm == m.saw_tooth_mm);
  }
}

TEST_CASE("lean from a dial swing") {
  CHECK(tram_deg(.10, 200) == Approx(.0286479).epsilon(1e-6));
  const TramMarks a = tram_marks({25, 15, tram_deg(.10, 200)});
  CHECK(a.cusp_mm == Approx(.00125).epsilon(1e-5));
  CHECK(a.saw_tooth_mm == Approx(.0075).epsilon(1e-5));
  CHECK(tram_deg(.2, 150) == Approx(.0763943).epsilon(1e-6));
  const TramMarks b = tram_marks({32, 24, tram_deg(.2, 150)});
  CHECK(b.cusp_mm == Approx(.00722265).epsilon(1e-5));
  CHECK(b.saw_tooth_mm == Approx(.032).epsilon(1e-5));
  CHECK(tram_deg(0, 200) == 0.0);
}

TEST_CASE("cutters and swings that cannot be") {
  CHECK_THROWS_AS(tram_deg(.1, 0), InputError);
  CHECK_THROWS_AS(tram_deg(-.1, 200), InputError);
  CHECK_THROWS_WITH_AS(tram_marks({25, 30, .1}), doctest::Contains("at most the diameter"),
                       InputError);
  CHECK_THROWS_AS(tram_marks({0, 1, .1}), InputError);
  CHECK_THROWS_AS(tram_marks({25, 10, std::nan("")}), InputError);
}
