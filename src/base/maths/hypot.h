// Lengths from two sides. Here and in the files beside it stand the functions that the standard
// leaves to each system's library in their last bit: our own, of plain IEEE 754 operations in a
// fixed order, so that every build of the core gives the same bytes.
#pragma once

#include <cmath>

namespace leastwall::maths {

/// Length of (x, y), >= 0; within 1 unit in the last place. Sizes as pieces of work have them,
/// 1e-140 to 1e150, or 0: the squares of others are lost or infinite.
inline double hypot(double x, double y) {
  return std::sqrt(x * x + y * y);
}

} // namespace leastwall::maths
