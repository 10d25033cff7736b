// How much thinner errors can make any wall of a piece, without asking every place.
#pragma once

#include "causes/model/cause.h"

#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// What sums of bounds and of effects may lose by rounding, mm: asked so much further.
inline constexpr double kRounding_mm = 1e-9;

struct MostThinning {
  double known_mm = 0; ///< no expected wall is thinner than the wall by more
  double worst_mm = 0; ///< nor is any worst-case wall
  double drawn_mm = 0; ///< nor any wall of a trial
};

/// With these sizes of the causes; `unit_draws[k]`: no draw of cause k with size 1 is larger. All
/// bounds are of a computation without rounding. Absent where the bound of a cause is not known.
std::optional<MostThinning> most_thinning(std::span<const Cause> causes,
                                          std::span<const double> sizes,
                                          std::span<const double> unit_draws, const Places& places);

/// Of every cause, as its distribution allows.
std::vector<double> largest_draws(std::span<const Cause> causes);

} // namespace leastwall
