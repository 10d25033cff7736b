#include "budget/effects/most_thinning.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

std::optional<MostThinning> most_thinning(std::span<const Cause> causes,
                                          std::span<const double> sizes,
                                          std::span<const double> unit_draws,
                                          const Places& places) {
  MostThinning sum;
  for (std::size_t k = 0; k < causes.size(); ++k) {
    const Cause& cause = causes[k];
    const double size = std::abs(sizes[k]);
    if (!cause.bound)
      return std::nullopt;
    const double change = cause.bound(places);
    if (cause.distribution == Distribution::shift) {
      sum.known_mm += change * size;
      sum.worst_mm += change * size;
      sum.drawn_mm += change * size;
      continue;
    }
    double limit = cause.distribution.half_width(size), drawn = unit_draws[k] * size;
    if (cause.overcut) { // no more than what it and the finishing bit do together over what is left
      for (const std::size_t i : cause.overcut->finishing) {
        limit += causes[i].distribution.half_width(std::abs(sizes[i]));
        drawn += unit_draws[i] * std::abs(sizes[i]);
      }
      limit = std::max(0.0, limit - cause.overcut->allowance_mm);
      drawn = std::max(0.0, drawn - cause.overcut->allowance_mm);
    }
    const double middle = cause.overcut ? 0 : std::abs(cause.distribution.middle(size));
    sum.known_mm += change * middle;
    sum.worst_mm += change * (middle + limit);
    sum.drawn_mm += change * drawn;
  }
  const bool known =
      std::isfinite(sum.known_mm) && std::isfinite(sum.worst_mm) && std::isfinite(sum.drawn_mm);
  return known ? std::optional(sum) : std::nullopt;
}

std::vector<double> largest_draws(std::span<const Cause> causes) {
  std::vector<double> draws;
  for (const Cause& cause : causes)
    draws.push_back(cause.distribution.largest_draw());
  return draws;
}

} // namespace leastwall
