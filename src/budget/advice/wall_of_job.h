// The walls of a job together: one change of a set-up changes every wall that has a cut made in it.
#pragma once

#include "base/run_context.h"
#include "budget/trials/outcome.h"
#include "setup/setup.h"

#include <span>
#include <vector>

namespace leastwall {

/// One wall as it is cut and measured.
struct WallOfJob {
  Setup setup; ///< its board's footprint is set
  std::span<const WallSample> samples;
  double over_mm = 0; ///< JudgedWall::over_mm
};

/// The walls when the first of them has the set-up `changed`: board, bed and flip are those of all;
/// what is stated alike for another set-up of the same side follows the change.
std::vector<WallOfJob> with_change(std::span<const WallOfJob> walls, const Setup& changed);

/// The outcome of all of them. Throws InputError as causes_of does.
Outcome outcome_of(std::span<const WallOfJob> walls, const OutcomeOptions& options,
                   const RunContext& run);

} // namespace leastwall
