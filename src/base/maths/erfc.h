// The complementary error function, the same in every build (see hypot.h).
#pragma once

namespace leastwall::maths {

/// 2 / sqrt(pi) times the integral of exp(-t^2) from x on: twice the share of a normal distribution
/// beyond sqrt(2) x sigma. Relative error under 1e-14 up to x = 26; 0 beyond.
double erfc(double x);

} // namespace leastwall::maths
