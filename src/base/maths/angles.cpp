#include "base/maths/angles.h"

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace leastwall::maths {
namespace {

/// A number as the sum of two: what it is rounded to, and the rest.
struct Split {
  double high, low;
};

// pi / 2 in three parts, of 33, 33 and 53 bits: n times the first two is exact for n < 2^20.
constexpr double kQuarter_1 = 0x1.921fb544p+0, kQuarter_2 = 0x1.0b4611a6p-34,
                 kQuarter_3 = 0x1.3198a2e037073p-69;
constexpr double kFarthest = 1e6;

/// What is left of x, within pi / 4 of 0, and how many quarter turns were taken off.
struct Reduced {
  Split rest;
  int quarter = 0; ///< 0 to 3
};

Reduced without_quarters(double x) {
  if (std::abs(x) <= std::numbers::pi / 4)
    return {{x, 0}, 0};
  if (std::abs(x) > kFarthest)
    x = std::fmod(x, 2 * std::numbers::pi); // exact
  constexpr double kRounds = 0x1.8p+52;     // added and taken off: rounds to a whole number
  const double n = (x * (2 / std::numbers::pi) + kRounds) - kRounds;
  const double most = x - n * kQuarter_1, second = n * kQuarter_2;
  const double nearly = most - second;
  const double low = ((most - nearly) - second) - n * kQuarter_3;
  const double high = nearly + low;
  return {{high, (nearly - high) + low}, static_cast<int>(static_cast<long long>(n) & 3)};
}

// Taylor's series: what follows the last term is under 1e-19 of the sum within pi / 4.
double sin_of(Split a) {
  const double x = a.high, z = x * x;
  const double p =
      -1.0 / 6 +
      z * (1.0 / 120 +
           z * (-1.0 / 5040 + z * (1.0 / 362880 + z * (-1.0 / 39916800 +
                                                       z * (1.0 / 6227020800 +
                                                            z * (-1.0 / 1307674368000 +
                                                                 z * (1.0 / 355687428096000)))))));
  return x + (x * z * p + a.low * (1 - z / 2));
}

double cos_of(Split a) {
  const double x = a.high, z = x * x;
  const double p =
      1.0 / 24 +
      z * (-1.0 / 720 +
           z * (1.0 / 40320 +
                z * (-1.0 / 3628800 + z * (1.0 / 479001600 + z * (-1.0 / 87178291200 +
                                                                  z * (1.0 / 20922789888000))))));
  const double half = z / 2, most = 1 - half;
  return most + (((1 - most) - half) + (z * z * p - x * a.low));
}

/// atan(k / 8), rounded and the rest (computed to 70 digits).
constexpr std::array<Split, 9> kEighths{{{0, 0},
                                         {0.12435499454676144, -3.1253241424539383e-18},
                                         {0.24497866312686414, 1.0698755618734451e-17},
                                         {0.35877067027057225, -2.4623815582638635e-17},
                                         {0.4636476090008061, 2.2698777452961687e-17},
                                         {0.5585993153435624, -5.4556305485916264e-18},
                                         {0.6435011087932844, 1.5834785051444286e-17},
                                         {0.7188299996216245, -2.1478388444456983e-17},
                                         {0.7853981633974483, 3.061616997868383e-17}}};
constexpr Split kRight{1.5707963267948966, 6.123233995736766e-17}; // pi / 2

/// atan(t) for t in [0, 1]: atan(k / 8) and the angle of what is left, at most 1/16.
Split atan_to_1(double t) {
  const double k = std::floor(8 * t + 0.5), c = k / 8;
  const double u = k == 0 ? t : (t - c) / (1 + t * c), z = u * u;
  const double p =
      -1.0 / 3 +
      z * (1.0 / 5 +
           z * (-1.0 / 7 + z * (1.0 / 9 + z * (-1.0 / 11 + z * (1.0 / 13 + z * (-1.0 / 15))))));
  const Split& whole = kEighths[static_cast<std::size_t>(k)];
  return {whole.high, u + (u * z * p + whole.low)};
}

/// Angle of (x, y), both >= 0 and not both 0, in [0, pi / 2].
double first_quadrant(double y, double x) {
  if (y <= x) {
    const Split a = atan_to_1(std::isinf(x) ? (std::isinf(y) ? 1.0 : 0.0) : y / x);
    return a.high + a.low;
  }
  const Split a = atan_to_1(std::isinf(y) ? 0.0 : x / y);
  return (kRight.high - a.high) + (kRight.low - a.low);
}

} // namespace

double sin(double x) {
  if (!std::isfinite(x))
    return x - x;
  const Reduced r = without_quarters(x);
  const double value = r.quarter % 2 == 0 ? sin_of(r.rest) : cos_of(r.rest);
  return r.quarter < 2 ? value : -value;
}

double cos(double x) {
  if (!std::isfinite(x))
    return x - x;
  const Reduced r = without_quarters(x);
  const double value = r.quarter % 2 == 0 ? cos_of(r.rest) : sin_of(r.rest);
  return r.quarter == 0 || r.quarter == 3 ? value : -value;
}

double tan(double x) {
  return sin(x) / cos(x);
}

double atan(double x) {
  return std::isnan(x) || x == 0 ? x : std::copysign(first_quadrant(std::abs(x), 1), x);
}

double atan2(double y, double x) {
  if (std::isnan(x) || std::isnan(y))
    return x + y;
  double angle = y == 0 ? 0 : first_quadrant(std::abs(y), std::abs(x));
  if (std::signbit(x))
    angle = (std::numbers::pi - angle) + 2 * kRight.low;
  return std::copysign(angle, y);
}

} // namespace leastwall::maths
