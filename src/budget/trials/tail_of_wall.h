// The trials of a wall that matter, without asking every sample.
#pragma once

#include "base/run_context.h"
#include "budget/trials/piece_trials.h"
#include "budget/trials/thin_first.h"

#include <cstddef>
#include <span>

namespace leastwall {

/// PieceTrials::tail() of all samples, but for rounding. Only those are asked that are thin enough to matter: what
/// the thinnest few bring bounds the answer from above, and no error makes another sample thinner
/// by more than most_thinning.h says.
PieceTrials::Tail tail_of_wall(std::span<const Cause> causes, const ThinFirst& samples,
                               const TrialOptions& options, std::size_t accepted, double limit_mm,
                               const RunContext& run);

} // namespace leastwall
