#include "base/maths/erfc.h"

#include "base/maths/exp_log.h"

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace leastwall::maths {
namespace {

// Rational approximations of W. J. Cody, "Rational Chebyshev approximations for the error
// function", Mathematics of Computation 23 (1969), 631-637; coefficients from memory, held by tests
// against the system's function and the integral.
constexpr std::array<double, 5> kA{3.16112374387056560e00, 1.13864154151050156e02,
                                   3.77485237685302021e02, 3.20937758913846947e03,
                                   1.85777706184603153e-1};
constexpr std::array<double, 4> kB{2.36012909523441209e01, 2.44024637934444173e02,
                                   1.28261652607737228e03, 2.84423683343917062e03};
constexpr std::array<double, 9> kC{
    5.64188496988670089e-1, 8.88314979438837594e00, 6.61191906371416295e01,
    2.98635138197400131e02, 8.81952221241769090e02, 1.71204761263407058e03,
    2.05107837782607147e03, 1.23033935479799725e03, 2.15311535474403846e-8};
constexpr std::array<double, 8> kD{
    1.57449261107098347e01, 1.17693950891312499e02, 5.37181101862009858e02, 1.62138957456669019e03,
    3.29079923573345963e03, 4.36261909014324716e03, 3.43936767414372164e03, 1.23033935480374942e03};
constexpr std::array<double, 6> kP{3.05326634961232344e-1, 3.60344899949804439e-1,
                                   1.25781726111229246e-1, 1.60837851487422766e-2,
                                   6.58749161529837803e-4, 1.63153871373020978e-2};
constexpr std::array<double, 5> kQ{2.56852019228982242e00, 1.87295284992346725e00,
                                   5.27905102951428412e-1, 6.05183413124413191e-2,
                                   2.33520497626869185e-3};

/// The leading coefficient of the numerator stands last; that of the denominator is 1.
template <std::size_t n, std::size_t m>
double quotient(double x, const std::array<double, n>& above, const std::array<double, m>& below) {
  double a = above[n - 1] * x, b = x;
  for (std::size_t i = 0; i + 1 < m; ++i) {
    a = (a + above[i]) * x;
    b = (b + below[i]) * x;
  }
  return (a + above[m - 1]) / (b + below[m - 1]);
}

/// exp(-y^2): of y cut off after 1/16 the square is exact.
double exp_minus_square(double y) {
  const double cut = std::floor(y * 16) / 16;
  return exp(-cut * cut) * exp(-(y - cut) * (y + cut));
}

} // namespace

double erfc(double x) {
  if (std::isnan(x))
    return x;
  const double y = std::abs(x);
  if (y <= 0.46875)
    return 1 - x * quotient(y * y, kA, kB);
  double value = 0;
  if (y <= 4) {
    value = exp_minus_square(y) * quotient(y, kC, kD);
  } else if (y < 26.5) {
    const double z = 1 / (y * y);
    value = exp_minus_square(y) * ((1 / std::sqrt(std::numbers::pi) - z * quotient(z, kP, kQ)) / y);
  }
  return x < 0 ? 2 - value : value;
}

} // namespace leastwall::maths
