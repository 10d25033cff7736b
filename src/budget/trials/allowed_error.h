// "How good must I be": the largest value of one key of the job that still leaves the verdict
// `safe`.
#pragma once

#include "budget/trials/outcome.h"

#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// No one needs to know of errors larger than this (in the unit of the cause).
inline constexpr double kLargestAsked = 5.0;

/// Answers are multiples of this (in the unit of the cause), rounded towards 0: what is shown can
/// be typed into the job, and is still safe there.
inline constexpr double kAllowedStep = 0.001;

/// One answer per cause of the first wall: the largest value of its setting (Cause::setting), all
/// others as stated, with the sign of a known shift, that still leaves the verdict `safe`. All
/// causes of one setting grow in step, so all of them get the same answer; a cause without a
/// setting stands for itself. kLargestAsked, or the most that can be, where any value does; absent
/// where none does, not even 0, or where the cause is a shape and has no size. By chance: the least
/// wall of a trial is a least of linear functions of the value, so it is concave in it and a trial
/// that holds at two values holds between them; the share of failing trials is bisected over the
/// value with the same draws. By worst case: bisected likewise. What one value moves in other walls
/// of the job grows with it: causes of the same setting, and the same cause.
std::vector<std::optional<double>> allowed_errors(std::span<const JudgedWall> walls,
                                                  const OutcomeOptions& options,
                                                  const RunContext& run);

/// The same for one wall.
std::vector<std::optional<double>> allowed_errors(std::span<const Cause> causes,
                                                  std::span<const WallSample> samples,
                                                  const OutcomeOptions& options,
                                                  const RunContext& run);

} // namespace leastwall
