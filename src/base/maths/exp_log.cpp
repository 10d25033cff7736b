#include "base/maths/exp_log.h"

#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>

namespace leastwall::maths {
namespace {

// ln 2 in two parts; a number under 2^20 times the first one is exact.
constexpr double kLn2_high = 0x1.62e42feep-1, kLn2_low = 0x1.a39ef35793c76p-33;
constexpr double kInfinite = std::numeric_limits<double>::infinity();

/// 2^n for -1022 <= n <= 1023.
double two_to(int n) {
  return std::bit_cast<double>(static_cast<std::uint64_t>(n + 1023) << 52);
}

} // namespace

double exp(double x) {
  if (std::isnan(x))
    return x;
  if (x > 709.7827128933840)
    return kInfinite;
  if (x < -708.396418532264)
    return 0;
  const double k = std::floor(x * std::numbers::log2e + 0.5);
  const double r = (x - k * kLn2_high) - k * kLn2_low; // within ln 2 / 2 of 0
  // Taylor's series: what follows the last term is under 5e-18.
  const double p =
      1.0 / 2 +
      r * (1.0 / 6 +
           r * (1.0 / 24 + r * (1.0 / 120 +
                                r * (1.0 / 720 +
                                     r * (1.0 / 5040 +
                                          r * (1.0 / 40320 +
                                               r * (1.0 / 362880 +
                                                    r * (1.0 / 3628800 +
                                                         r * (1.0 / 39916800 +
                                                              r * (1.0 / 479001600 +
                                                                   r * (1.0 / 6227020800)))))))))));
  const double value = 1 + (r + r * r * p);
  const int n = static_cast<int>(k);
  return n > 1023 ? value * 2 * two_to(n - 1) : value * two_to(n);
}

double log(double x) {
  if (std::isnan(x) || x < 0)
    return std::numeric_limits<double>::quiet_NaN();
  if (x == 0)
    return -kInfinite;
  if (std::isinf(x))
    return x;
  int n = 0;
  double m = std::frexp(x, &n);
  if (m < std::numbers::sqrt2 / 2) {
    m *= 2;
    --n;
  }
  // x = 2^n (1 + f); ln(1 + f) = 2 artanh(s), s = f / (2 + f), |s| < 0.172.
  const double f = m - 1, s = f / (2 + f), z = s * s, half = f * f / 2;
  const double p =
      z * (2.0 / 3 +
           z * (2.0 / 5 +
                z * (2.0 / 7 +
                     z * (2.0 / 9 +
                          z * (2.0 / 11 +
                               z * (2.0 / 13 +
                                    z * (2.0 / 15 +
                                         z * (2.0 / 17 + z * (2.0 / 19 + z * (2.0 / 21))))))))));
  const double k = n;
  return k * kLn2_high - ((half - (s * (half + p) + k * kLn2_low)) - f);
}

double log1p(double x) {
  const double u = 1 + x;
  return u == 1 ? x : log(u) * (x / (u - 1)); // the error of u is in both
}

double power(double x, double y) {
  return y == 0 ? 1 : x == 0 ? (y > 0 ? 0 : kInfinite) : exp(y * log(x));
}

double whole_power(double x, int n) {
  double value = 1;
  for (int i = 0; i < n; ++i)
    value *= x;
  return value;
}

} // namespace leastwall::maths
