// What it costs that a stiff board rocks on the bed.
#pragma once

#include "base/notice.h"
#include "base/run_context.h"
#include "budget/trials/outcome.h"
#include "setup/setup.h"

#include <span>
#include <vector>

namespace leastwall {

/// One notice "board-rocks" for each side on which the board of `setup` can tip from one resting
/// tilt to another (bed/seat/resting_tilts.h): the places of the bed it rocks over and what
/// pressing it flat gains, by the same measure as advice (Outcome::guaranteed_mm against `now`);
/// `setup` must have its footprint. None for a board that is stated as pressed flat and one without
/// readings.
std::vector<Notice> rocking_notices(const Setup& setup, std::span<const WallSample> samples,
                                    const OutcomeOptions& options, const Outcome& now,
                                    const RunContext& run);

} // namespace leastwall
