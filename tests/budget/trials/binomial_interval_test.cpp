#include "budget/trials/binomial_interval.h"

#include <cmath>
#include <doctest/doctest.h>
#include <initializer_list>

using namespace leastwall;
using doctest::Approx;

namespace {

// P(X <= k) of n trials with chance p, term by term.
double binomial_up_to(int k, int n, double p) {
  double term = std::pow(1 - p, n), sum = term;
  for (int i = 1; i <= k; ++i) {
    term *= (n - i + 1.0) / i * p / (1 - p);
    sum += term;
  }
  return sum;
}

} // namespace

TEST_CASE("incomplete beta function: closed forms") {
  for (const double x : {0.01, 0.3, 0.77}) {
    CHECK(incomplete_beta(1, 5, x) == Approx(1 - std::pow(1 - x, 5)));
    CHECK(incomplete_beta(7, 1, x) == Approx(std::pow(x, 7)));
    CHECK(incomplete_beta(3, 4, x) == Approx(1 - incomplete_beta(4, 3, 1 - x)));
  }
  CHECK(incomplete_beta(2, 2, 0) == 0);
  CHECK(incomplete_beta(2, 2, 1) == 1);
}

TEST_CASE("Clopper-Pearson: each end is where the binomial tail is 2.5 %") {
  for (const int n : {10, 100, 400})
    for (const int k : {1, 3, 7}) {
      const Interval i =
          clopper_pearson(static_cast<std::uint64_t>(k), static_cast<std::uint64_t>(n));
      CHECK(binomial_up_to(k, n, i.high) == Approx(0.025).epsilon(1e-9));
      CHECK(1 - binomial_up_to(k - 1, n, i.low) == Approx(0.025).epsilon(1e-9));
    }
  // None and all: closed forms 1 - 0.025^(1/n) and its mirror.
  CHECK(clopper_pearson(0, 20000).low == 0);
  CHECK(clopper_pearson(0, 20000).high == Approx(1 - std::pow(0.025, 1.0 / 20000)));
  CHECK(clopper_pearson(50, 50).high == 1);
  CHECK(clopper_pearson(50, 50).low == Approx(std::pow(0.025, 1.0 / 50)));
  const Interval many = clopper_pearson(1000, 20000);
  CHECK(many.low < 0.05);
  CHECK(many.high > 0.05);
  CHECK(many.high - many.low == Approx(2 * 1.96 * std::sqrt(0.05 * 0.95 / 20000)).epsilon(0.02));
}
