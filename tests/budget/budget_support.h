// Helpers of the budget tests.
#pragma once

#include "setup/cause.h"
#include "wall/wall_map.h"

#include <string>
#include <vector>

namespace leastwall::test {

/// A cause with the same sensitivity everywhere.
inline Cause plain_cause(const std::string& name, Distribution distribution, double size,
                         double c = 1) {
  Cause cause;
  cause.key = cause.name = name;
  cause.distribution = distribution;
  cause.size = size;
  cause.sensitivity = [c](const CausePoint&) { return c; };
  if (distribution == Distribution::disc)
    cause.sensitivity_2 = [](const CausePoint&) { return 0.0; };
  return cause;
}

/// Rectangles of these half-widths.
inline std::vector<Cause> rectangles(const std::vector<double>& half_widths) {
  std::vector<Cause> causes;
  for (std::size_t i = 0; i < half_widths.size(); ++i)
    causes.push_back(
        plain_cause("rectangle " + std::to_string(i), Distribution::rectangle, half_widths[i]));
  return causes;
}

inline WallSample flat_sample(double x, double y, double wall) {
  return {{x, y, -19}, {0, 0, -1}, wall};
}

} // namespace leastwall::test
