// Small smooth curves that the demo shapes are made of.
#pragma once

#include <algorithm>

namespace leastwall::demo {

inline double mix(double a, double b, double weight) {
  return a + (b - a) * weight;
}

/// 0 below `from`, 1 above `to`, smooth between (cubic). `from` < `to`.
inline double smooth_step(double from, double to, double x) {
  const double u = std::clamp((x - from) / (to - from), 0.0, 1.0);
  return u * u * (3.0 - 2.0 * u);
}

} // namespace leastwall::demo
