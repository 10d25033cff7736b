// The walls of a job together: one change of a set-up changes every wall that has a cut made in it.
#pragma once

#include "base/run_context.h"
#include "budget/trials/outcome.h"
#include "setup/setup.h"

#include <functional>
#include <span>
#include <vector>

namespace leastwall {

/// One wall as it is cut and measured.
struct WallOfJob {
  Setup setup; ///< its board's footprint is set
  std::span<const WallSample> samples;
  double over_mm = 0;                    ///< JudgedWall::over_mm
  const ThinFirst* thin_first = nullptr; ///< JudgedWall::thin_first
};

/// The walls when the first of them has the set-up `changed`: board, bed and flip are those of all,
/// and so is a set-up that cuts several; a set-up of its own takes from a change of the job's what
/// its pocket's table does not state.
std::vector<WallOfJob> with_change(std::span<const WallOfJob> walls, const Setup& changed);

using CausesOf = std::function<std::vector<Cause>(const Setup&)>;

/// The outcome of all of them, with the causes that each set-up has.
Outcome outcome_of(std::span<const WallOfJob> walls, const OutcomeOptions& options,
                   const RunContext& run, const CausesOf& causes_of_setup);

/// With those of causes_of(). Throws InputError as that does.
Outcome outcome_of(std::span<const WallOfJob> walls, const OutcomeOptions& options,
                   const RunContext& run);

} // namespace leastwall
