// "How good must I be": the largest error of one cause that still leaves the verdict `safe`.
#pragma once

#include "budget/outcome.h"

#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// Nobody needs to know of errors larger than this (in the unit of the cause).
inline constexpr double kLargestAsked = 5.0;

/// Found to about this (in the unit of the cause), rounded towards 0.
inline constexpr double kAllowedStep = 0.0005;

/// One answer per cause, all others as stated: the size, with the sign of a known shift, that still
/// leaves the verdict `safe`; kLargestAsked where any size does; absent where none does, not even
/// 0, or where the cause is a shape and has no size.
/// By chance: the least wall of a trial is a least of linear functions of the size, so it is
/// concave in it and a trial that holds at two sizes holds between them; the share of failing
/// trials is bisected over the size with the same draws. By worst case: bisected likewise.
std::vector<std::optional<double>> allowed_errors(std::span<const Cause> causes,
                                                  std::span<const WallSample> samples,
                                                  const OutcomeOptions& options,
                                                  const RunContext& run);

} // namespace leastwall
