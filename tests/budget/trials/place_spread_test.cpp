// "19 times in 20" at one place: published examples, closed forms, never beyond the worst case.
#include "budget/budget_support.h"

#include "budget/budget.h"
#include "budget/trials/place_spread.h"

#include <doctest/doctest.h>
#include <numeric>
#include <random>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

WallSpread spread_of(const std::vector<Cause>& causes, std::size_t trials, double wall = 0) {
  return spread_at(causes, flat_sample(0, 0, wall), {trials, 7, {}}, {});
}

} // namespace

TEST_CASE("central 95 %: order statistics as JCGM 101:2008, 7.7 counts them") {
  std::vector<double> walls(100000);
  std::iota(walls.begin(), walls.end(), 1.0);
  std::shuffle(walls.begin(), walls.end(), std::mt19937(1));
  // Its example in 7.7.2: M = 100 000 gives q = 95 000, and in the middle r = 2 500.
  WallSpread s = central_95(walls);
  CHECK(s.low_mm == 2500);
  CHECK(s.high_mm == 97500);
  walls.resize(20000);
  std::iota(walls.begin(), walls.end(), 1.0);
  s = central_95(walls);
  CHECK(s.low_mm == 500);
  CHECK(s.high_mm == 19500);
  s = central_95({1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20});
  CHECK(s.low_mm == 1);
  CHECK(s.high_mm == 20);
  s = central_95({0.7});
  CHECK(s.low_mm == 0.7);
  CHECK(s.high_mm == 0.7);
}

TEST_CASE("spread: the additive models of JCGM 101:2008, 9.2.2 to 9.2.4") {
  const double r3 = std::sqrt(3.0);
  std::vector<Cause> normal;
  for (int i = 0; i < 4; ++i)
    normal.push_back(plain_cause("normal " + std::to_string(i), Distribution::normal, 1));
  WallSpread s = spread_of(normal, 1000000);
  CHECK(std::abs(s.low_mm + 3.92) < 0.02);
  CHECK(std::abs(s.high_mm - 3.92) < 0.02);
  s = spread_of(rectangles({r3, r3, r3, r3}), 1000000);
  CHECK(std::abs(s.low_mm + 3.879407) < 0.02); // 2 sqrt 3 (2 - (3/5)^(1/4))
  CHECK(std::abs(s.high_mm - 3.879407) < 0.02);
  s = spread_of(rectangles({r3, r3, r3, 10 * r3}), 1000000);
  CHECK(std::abs(s.low_mm + 17.01581) < 0.05); // by convolution
  CHECK(std::abs(s.high_mm - 17.01581) < 0.05);
  // Five rectangles by convolution; two standard uncertainties would give 0.0757 and 0.0503.
  s = spread_of(rectangles({.05, .03, .02, .02, .01}), 400000, 0.85);
  CHECK(s.low_mm == Approx(0.85 - 0.0719412).epsilon(5e-4));
  CHECK(s.high_mm == Approx(0.85 + 0.0719412).epsilon(5e-4));
  s = spread_of(rectangles({.01, .03, .02, .02, .01}), 400000, 0.85);
  CHECK(s.low_mm == Approx(0.85 - 0.0483986).epsilon(5e-4));
}

TEST_CASE("spread: one error that outweighs the rest ends before its limit") {
  // +-0.2 alone: the middle 95 % are +-0.19, where two standard uncertainties reach 0.231.
  const WallSpread one = spread_of(rectangles({0.2}), 200000, 1);
  CHECK(std::abs(one.low_mm - 0.81) < 0.001);
  CHECK(std::abs(one.high_mm - 1.19) < 0.001);
  // With +-0.01 beside it a trapezium: P(S < -0.2 + d) = (d + 0.01) / 0.4 for -0.01 <= d - 0.01:
  // 2.5 % at d = 0.01 - 0.01 + 0.01 = 0.01.
  const WallSpread two = spread_of(rectangles({0.2, 0.01}), 200000, 1);
  CHECK(std::abs(two.low_mm - 0.81) < 0.001);
  // A normal error is cut where the worst case takes it: at 2 u, and 1.96 u lies inside.
  const WallSpread normal = spread_of({plain_cause("n", Distribution::normal, 0.1)}, 200000, 1);
  CHECK(std::abs(normal.low_mm - 0.804) < 0.002);
  // Three trials of it may all lie anywhere; the cut holds them.
  for (std::uint64_t seed = 1; seed < 200; ++seed) {
    const WallSpread few = spread_at(std::vector{plain_cause("n", Distribution::normal, 0.1)},
                                     flat_sample(0, 0, 1), {3, seed, {}}, {});
    CHECK(few.low_mm >= 0.8);
    CHECK(few.high_mm <= 1.2);
  }
  // Always thinner by 0..0.1: 95 % of them by 0.0025 to 0.0975; around the middle 0.95, not 1.
  const WallSpread thin =
      spread_of({plain_cause("o", Distribution::half_uniform, 0.1, -1)}, 200000, 1);
  CHECK(std::abs(thin.low_mm - 0.9025) < 0.001);
  CHECK(std::abs(thin.high_mm - 0.9975) < 0.001);
}

TEST_CASE("spread of a whole budget: at the thinnest place, inside the worst case") {
  Setup s;
  s.inner.touch_off = {0.2, Knowledge::limits};
  s.outer.touch_off = {0.01, Knowledge::limits};
  BudgetOptions options;
  options.limit_mm = 0.75;
  const std::vector<WallSample> samples = {flat_sample(0, 0, 1), flat_sample(9, 0, 1.3)};
  const Budget b = compute_budget(s, samples, options, {});
  CHECK(b.least.worst_mm == Approx(0.79));
  CHECK(std::abs(b.least.spread_low_mm - 0.81) < 0.003);
  CHECK(std::abs(b.least.spread_high_mm - 1.19) < 0.003);
}
