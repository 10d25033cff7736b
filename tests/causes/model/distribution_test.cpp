// Middles, limits and standard uncertainties against closed forms and against the draws themselves.
#include "causes/model/distribution.h"

#include <cmath>
#include <cstdint>
#include <doctest/doctest.h>
#include <set>
#include <string>
#include <utility>

using namespace leastwall;
using doctest::Approx;

namespace {

constexpr Distribution::Shape kShapes[] = {Distribution::shift, Distribution::rectangle,
                                           Distribution::normal, Distribution::half_uniform,
                                           Distribution::disc};

/// Mean and standard deviation of one scalar's unit draws over an even grid of both uniforms.
std::pair<double, double> drawn(Distribution d, bool second) {
  constexpr int kSteps = 1000;
  double sum = 0, squares = 0;
  for (int i = 0; i < kSteps; ++i)
    for (int j = 0; j < kSteps; ++j) {
      const double e = d.unit_draw((i + 0.5) / kSteps, (j + 0.5) / kSteps, second);
      sum += e;
      squares += e * e;
    }
  const double mean = sum / kSteps / kSteps;
  return {mean, std::sqrt(squares / kSteps / kSteps - mean * mean)};
}

} // namespace

TEST_CASE("distributions: closed forms of the GUM") {
  // JCGM 100:2008, 4.3.7: half-width a gives a / sqrt 3; 4.3.8 for a range b: b / sqrt 12.
  CHECK(Distribution(Distribution::rectangle).u(0.06) == Approx(0.06 / std::sqrt(3.0)));
  CHECK(Distribution(Distribution::half_uniform).u(0.06) == Approx(0.06 / std::sqrt(12.0)));
  CHECK(Distribution(Distribution::half_uniform).middle(0.06) == Approx(0.03));
  CHECK(Distribution(Distribution::half_uniform).half_width(0.06) == Approx(0.03));
  CHECK(Distribution(Distribution::normal).u(0.06) == 0.06);
  CHECK(Distribution(Distribution::normal).half_width(0.06) == Approx(0.12)); // k = 2
  CHECK(Distribution(Distribution::shift).middle(-0.06) == -0.06);
  CHECK(Distribution(Distribution::shift).half_width(-0.06) == 0);
  CHECK(Distribution(Distribution::disc).half_width(0.06) == 0.06);
  CHECK(Distribution(Distribution::disc).u(0.06) == Approx(0.03)); // variance r^2 / 4
}

TEST_CASE("distributions: the draws have the middle and the spread that are told") {
  for (const Distribution d : kShapes)
    for (int scalar = 0; scalar < d.scalars(); ++scalar) {
      CAPTURE(std::string(d.key()));
      const auto [mean, deviation] = drawn(d, scalar == 1);
      CHECK(mean == Approx(d.middle(1)).epsilon(0.001));
      CHECK(deviation == Approx(d.u(1)).epsilon(0.002));
    }
}

TEST_CASE("distributions: no draw is larger than told, and a normal one comes near") {
  const double least = 0.5 * 0x1p-53; // the smallest uniform draw
  for (const Distribution d : kShapes)
    for (const double u1 : {least, 0.25, 0.5, 1 - 2 * least})
      for (const double u2 : {least, 0.25, 0.5, 1 - 2 * least})
        for (const bool second : {false, true})
          CHECK(std::abs(d.unit_draw(u1, u2, second)) <= d.largest_draw());
  CHECK(normal_draw(least, least) > 0.97 * kLargestNormalDraw);
}

TEST_CASE("distributions: scalars and keys") {
  std::set<std::string> keys;
  for (const Distribution d : kShapes)
    keys.insert(d.key());
  CHECK(keys == std::set<std::string>{"disc", "half-uniform", "normal", "rectangle", "shift"});
  CHECK(Distribution(Distribution::shift).scalars() == 0);
  CHECK(Distribution(Distribution::normal).scalars() == 1);
  CHECK(Distribution(Distribution::disc).scalars() == 2);
}
