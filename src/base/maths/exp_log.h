// Exponentials and logarithms, the same in every build (see hypot.h); within 2 units in the last
// place.
#pragma once

namespace leastwall::maths {

/// Infinite where it is too large to hold, 0 where it is under 2^-1022.
double exp(double x);
/// Minus infinity at 0, not a number below.
double log(double x);
/// log(1 + x), x > -1, exact for small x.
double log1p(double x);
/// x to the power of y, x >= 0. exp(y log x): the relative error grows as |y log x|.
double power(double x, double y);
/// x multiplied n times, n >= 0, from the left.
double whole_power(double x, int n);

} // namespace leastwall::maths
