// Helpers of the budget tests.
#pragma once

#include "causes/model/cause.h"
#include "wall/sampling/wall_map.h"

#include <string>
#include <vector>

namespace leastwall::test {

/// A cause with the same sensitivity everywhere; another name draws other numbers.
inline Cause plain_cause(const std::string& name, Distribution distribution, double size,
                         double c = 1) {
  Cause cause;
  std::uint32_t number = 2166136261u; // FNV-1a
  for (const char letter : name)
    number = (number ^ static_cast<unsigned char>(letter)) * 16777619u;
  cause.id = {CauseKind::touch_off, std::nullopt, number};
  cause.distribution = distribution;
  cause.size = size;
  cause.sensitivity = [c](const WallSample&) { return c; };
  if (distribution == Distribution::disc)
    cause.sensitivity_2 = [](const WallSample&) { return 0.0; };
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

/// What a roughing bit overcuts of what these finishing causes leave.
inline Cause rough_cause(const std::string& name, Distribution distribution, double size,
                         double allowance_mm, std::vector<std::size_t> finishing) {
  Cause cause = plain_cause(name, distribution, size);
  cause.overcut = RoughingOvercut{allowance_mm, std::move(finishing)};
  return cause;
}

inline WallSample flat_sample(double x, double y, double wall) {
  return {{x, y, -19}, {0, 0, -1}, wall};
}

} // namespace leastwall::test
