// Numbers of 64 binary digits, for sums in which much cancels: those of the x87, whose `long
// double` has them. Where a machine's has not, another header of this name gives the same digits
// (see hypot.h).
#pragma once

#include <limits>

namespace leastwall::maths {

using Extended = long double;
#if defined(__x86_64__) || defined(__i386__)
static_assert(std::numeric_limits<Extended>::digits == 64);
#endif

} // namespace leastwall::maths
