// Helpers of the set-up tests.
#pragma once

#include "base/assumption.h"
#include "bed/bed_map.h"
#include "causes/causes.h"
#include "setup/setup.h"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace leastwall::test {

/// A point on a flat skin: depth of the floor d below z = 0, n straight down.
inline WallSample flat_point(double x, double y, double depth, double wall) {
  return {{x, y, -depth - wall}, {0, 0, -1}, wall};
}

/// A grid of readings of f over [-hx, hx] x [-hy, hy].
inline std::shared_ptr<const BedMap> grid_of(double hx, double hy, std::size_t nx, std::size_t ny,
                                             const std::function<double(double, double)>& f) {
  std::vector<double> x, y;
  for (std::size_t i = 0; i < nx; ++i)
    x.push_back(-hx + 2 * hx * static_cast<double>(i) / static_cast<double>(nx - 1));
  for (std::size_t j = 0; j < ny; ++j)
    y.push_back(-hy + 2 * hy * static_cast<double>(j) / static_cast<double>(ny - 1));
  std::vector<std::optional<double>> h;
  for (const double v : y)
    for (const double u : x)
      h.push_back(f(u, v));
  return std::make_shared<const BedMap>(BedMap::grid(x, y, h));
}

/// Change of the wall at p when every known shift counts and nothing else does.
inline double known_change(const Setup& setup, const WallSample& p) {
  std::vector<Assumption> assumptions;
  double sum = 0;
  for (const Cause& c : causes_of(setup, assumptions))
    if (c.distribution == Distribution::shift)
      sum += c.sensitivity(p) * c.size;
  return sum;
}

/// The causes of these kinds.
template <class... Kinds> std::vector<Cause> causes_with(const Setup& setup, const Kinds... kinds) {
  std::vector<Assumption> assumptions;
  std::vector<Cause> found;
  for (const Cause& c : causes_of(setup, assumptions))
    if (((c.id.kind == kinds) || ...))
      found.push_back(c);
  return found;
}

} // namespace leastwall::test
