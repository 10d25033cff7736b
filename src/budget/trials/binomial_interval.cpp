#include "budget/trials/binomial_interval.h"

#include "base/maths/exp_log.h"

#include <cmath>
#include <initializer_list>

namespace leastwall {
namespace {

// lgamma of the C library writes a global; this one does not.
double log_gamma(double x) {
  int sign = 0;
  return ::lgamma_r(x, &sign);
}

double fraction(double a, double b, double x) {
  constexpr double kTiny = 1e-300;
  double c = 1, d = 1 - (a + b) * x / (a + 1);
  d = 1 / (std::abs(d) < kTiny ? kTiny : d);
  double h = d;
  for (int m = 1; m < 10000; ++m) {
    const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    double change = 1;
    for (const double term : {even, odd}) {
      d = 1 + term * d;
      d = 1 / (std::abs(d) < kTiny ? kTiny : d);
      c = 1 + term / c;
      if (std::abs(c) < kTiny)
        c = kTiny;
      change = c * d;
      h *= change;
    }
    if (std::abs(change - 1) < 1e-15)
      break;
  }
  return h;
}

// The x with I_x(a, b) = p.
double beta_quantile(double p, double a, double b) {
  double low = 0, high = 1;
  for (int i = 0; i < 200 && high - low > 1e-16 * high; ++i) {
    const double x = (low + high) / 2;
    (incomplete_beta(a, b, x) < p ? low : high) = x;
  }
  return (low + high) / 2;
}

} // namespace

double incomplete_beta(double a, double b, double x) {
  if (x <= 0)
    return 0;
  if (x >= 1)
    return 1;
  const double front = maths::exp(log_gamma(a + b) - log_gamma(a) - log_gamma(b) +
                                  a * maths::log(x) + b * maths::log1p(-x));
  if (x < (a + 1) / (a + b + 2))
    return front * fraction(a, b, x) / a;
  return 1 - front * fraction(b, a, 1 - x) / b;
}

Interval clopper_pearson(std::uint64_t hits, std::uint64_t trials, double confidence) {
  const double tail = (1 - confidence) / 2;
  const double k = static_cast<double>(hits), n = static_cast<double>(trials);
  Interval interval;
  if (hits > 0)
    interval.low = beta_quantile(tail, k, n - k + 1);
  if (hits < trials)
    interval.high = beta_quantile(1 - tail, k + 1, n - k);
  return interval;
}

} // namespace leastwall
