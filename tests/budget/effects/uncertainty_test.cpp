// Published uncertainty examples through the code that serves the budget.
#include "budget/budget_support.h"

#include "budget/effects/spread.h"
#include "budget/trials/outcome.h"
#include "budget/trials/piece_trials.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

double u_of(const std::vector<Cause>& causes) {
  std::vector<Effect> effects(causes.size());
  effects_at(causes, {{0, 0, 0}, {0, 0, -1}, 0}, effects);
  return sum_of(effects).u;
}

double worst_of(const std::vector<Cause>& causes) {
  std::vector<Effect> effects(causes.size());
  effects_at(causes, {{0, 0, 0}, {0, 0, -1}, 0}, effects);
  return sum_of(effects).half_width;
}

// Sorted trials of the sum of all causes on a wall of 0.
std::vector<double> trials_of(const std::vector<Cause>& causes, std::size_t n) {
  const std::vector<WallSample> samples = {flat_sample(0, 0, 0)};
  std::vector<double> sums =
      PieceTrials(causes, samples, {n, 7, {}}, {}).least_walls(std::nullopt, {});
  std::sort(sums.begin(), sums.end());
  return sums;
}

// Half the width between the 2.5 % and the 97.5 % point.
double half_95(const std::vector<double>& sorted) {
  const std::size_t n = sorted.size();
  return (sorted[n - n / 40] - sorted[n / 40]) / 2;
}

} // namespace

TEST_CASE("JCGM 101:2008, 9.2.2 to 9.2.4: additive model") {
  const double r3 = std::sqrt(3.0);
  const std::size_t n = 1000000;
  std::vector<Cause> normal;
  for (int i = 0; i < 4; ++i)
    normal.push_back(plain_cause("normal " + std::to_string(i), Distribution::normal, 1));
  CHECK(u_of(normal) == Approx(2.0)); // 9.2.2
  CHECK(std::abs(half_95(trials_of(normal, n)) - 3.92) < 0.02);

  const std::vector<Cause> four = rectangles({r3, r3, r3, r3});
  CHECK(u_of(four) == Approx(2.0)); // 9.2.3
  // Closed form 2 sqrt 3 (2 - (3/5)^(1/4)) = 3.8794; published 3.88.
  CHECK(std::abs(half_95(trials_of(four, n)) - 3.879407) < 0.02);

  const std::vector<Cause> wide = rectangles({r3, r3, r3, 10 * r3});
  CHECK(u_of(wide) == Approx(10.148892).epsilon(1e-7));           // 9.2.4: 10.1
  CHECK(std::abs(half_95(trials_of(wide, n)) - 17.01581) < 0.05); // exact by convolution; 17.0
}

TEST_CASE("GUM (JCGM 100:2008) H.1, end gauge: combined standard uncertainty 32 nm") {
  // Contributions |c| u in nm: standard 25; comparison 9.7; difference of expansion
  // l theta u = 50 000 623 nm x 0.1 C x 0.58e-6; difference of temperature l alpha u =
  // 50 000 623 nm x 11.5e-6 x 0.029 C.
  const double l = 50000623;
  const std::vector<Cause> causes = {
      plain_cause("standard", Distribution::normal, 25),
      plain_cause("comparison", Distribution::normal, 9.7),
      plain_cause("expansion", Distribution::normal, 0.58e-6, -l * -0.1),
      plain_cause("temperature", Distribution::normal, 0.029, -l * 11.5e-6)};
  CHECK(u_of(causes) == Approx(31.71).epsilon(2e-4));
}

TEST_CASE("sums of rectangles: worst case, u, exact 95 % intervals by convolution") {
  // P(S <= x) = 1/(n! prod 2a) sum over signs (prod eps) max(0, x + sum eps a)^n, solved for 95 %.
  struct Row {
    std::vector<double> a;
    double worst, u, two_sided, one_sided;
  };
  const Row rows[] = {{{1, 1}, 2, 0.816497, 1.552786, 0},
                      {{3, 1}, 4, 1.825742, 3.225403, 0},
                      {{1, 1, 1}, 3, 1, 1.937341, 1.661134},
                      {{0.05, 0.03, 0.02, 0.02, 0.01}, 0.130, 0.0378594, 0.0719412, 0.0621724},
                      {{0.01, 0.03, 0.02, 0.02, 0.01}, 0.090, 0.0251661, 0.0483986, 0.0415145}};
  for (const Row& row : rows) {
    const std::vector<Cause> causes = rectangles(row.a);
    CHECK(worst_of(causes) == Approx(row.worst));
    CHECK(u_of(causes) == Approx(row.u).epsilon(2e-6));
    const std::vector<double> sums = trials_of(causes, 400000);
    CHECK(half_95(sums) == Approx(row.two_sided).epsilon(0.004));
    if (row.one_sided > 0)
      CHECK(-sums[sums.size() / 20] == Approx(row.one_sided).epsilon(0.004));
    CHECK(sums.front() >= -row.worst);
  }
}

TEST_CASE("guard band as in ISO 14253-1: margin 0.05 before and after a better bed") {
  // Lower limit 0.80, wall 0.85. One-sided 95 % quantiles by convolution: 0.0621724 and 0.0415145.
  const std::vector<WallSample> samples = {flat_sample(0, 0, 0.85)};
  OutcomeOptions options;
  options.limit_mm = 0.80;
  options.trials = 200000;
  const Outcome before = outcome_of(rectangles({.05, .03, .02, .02, .01}), samples, options, {});
  const Outcome after = outcome_of(rectangles({.01, .03, .02, .02, .01}), samples, options, {});
  CHECK(before.verdict == Verdict::at_risk);
  CHECK(after.verdict == Verdict::safe);
  CHECK(before.guaranteed_mm == Approx(0.85 - 0.0621724).epsilon(5e-4));
  CHECK(after.guaranteed_mm == Approx(0.85 - 0.0415145).epsilon(5e-4));
  CHECK(before.least_worst_mm == Approx(0.72));
  options.basis = VerdictBasis::worst_case; // fails both times: 0.130 and 0.090 against 0.05
  CHECK(outcome_of(rectangles({.01, .03, .02, .02, .01}), samples, options, {}).verdict ==
        Verdict::at_risk);
  // Exact chances of an error below -0.060: 0.0572786 and 0.00523003.
  for (const auto& [a, exact] : {std::pair{.05, 0.0572786}, std::pair{.01, 0.00523003}}) {
    const std::vector<double> sums = trials_of(rectangles({a, .03, .02, .02, .01}), 400000);
    const auto under = std::lower_bound(sums.begin(), sums.end(), -0.06) - sums.begin();
    CHECK(std::abs(static_cast<double>(under) / 400000 - exact) < 0.0015);
  }
}

TEST_CASE("one-sided conformance probability of a normal error (JCGM 106:2012, from memory)") {
  // Margin 0.07 at u 0.05: Phi(1.40) = 0.9192 conforms.
  const std::vector<double> e = trials_of({plain_cause("n", Distribution::normal, 0.05)}, 400000);
  const auto under = std::lower_bound(e.begin(), e.end(), -0.07) - e.begin();
  CHECK(std::abs(static_cast<double>(under) / 400000 - (1 - 0.9192)) < 0.0015);
}

TEST_CASE("disc play: a coordinate of a point anywhere in a disc has sd r/2 (by integration)") {
  Cause disc = plain_cause("play", Distribution::disc, 0.0155);
  CHECK(u_of({disc}) == Approx(0.00775));
  CHECK(worst_of({disc}) == Approx(0.0155));
  const std::vector<double> x = trials_of({disc}, 400000);
  double square = 0;
  for (const double v : x)
    square += v * v;
  CHECK(std::sqrt(square / 400000) == Approx(0.00775).epsilon(0.005));
  CHECK(x.front() > -0.0155);
  // Both coordinates: the pull c.e along a slanted direction has the same spread.
  disc.sensitivity = [](const WallSample&) { return 0.6; };
  disc.sensitivity_2 = [](const WallSample&) { return 0.8; };
  CHECK(u_of({disc}) == Approx(0.00775));
  CHECK(worst_of({disc}) == Approx(0.0155));
}

TEST_CASE("half-uniform and roughing errors: middle, limits and spread against trials") {
  const std::vector<Cause> overcut = {plain_cause("overcut", Distribution::half_uniform, 0.06, -1)};
  std::vector<Effect> effects(1);
  effects_at(overcut, {{0, 0, 0}, {0, 0, -1}, 0}, effects);
  CHECK(effects[0].shift == Approx(-0.03));
  CHECK(effects[0].half_width == Approx(0.03));
  CHECK(effects[0].u == Approx(0.06 / std::sqrt(12.0)));

  std::vector<Cause> pair = {plain_cause("finish", Distribution::rectangle, 0.05),
                             rough_cause("rough", Distribution::rectangle, 0.12, 0.02, {0})};
  // min(f, 0.02 + r) >= min(-0.05, 0.02 - 0.12) = -0.10
  CHECK(worst_of(pair) == Approx(0.10));
  CHECK(trials_of(pair, 200000).front() >= -0.10);
  CHECK(trials_of(pair, 200000).front() < -0.098);
  pair[1].overcut->allowance_mm = 0.2; // never reached
  CHECK(worst_of(pair) == Approx(0.05));
  const std::vector<double> clean = trials_of(pair, 1000);
  CHECK(clean.front() > -0.05);
  // All normal: E[min(0, x)^2] is exact.
  pair = {plain_cause("finish", Distribution::normal, 0.03),
          rough_cause("rough", Distribution::normal, 0.04, 0.01, {0})};
  effects.resize(2);
  effects_at(pair, {{0, 0, 0}, {0, 0, -1}, 0}, effects);
  const TrialDraws draws(pair, 400000, 3, std::nullopt, {});
  std::vector<double> e(2);
  double square = 0;
  for (std::size_t t = 0; t < 400000; ++t) {
    draws.errors(t, sizes_of(pair), e);
    square += e[1] * e[1];
  }
  CHECK(effects[1].u == Approx(std::sqrt(square / 400000)).epsilon(0.01));
}
