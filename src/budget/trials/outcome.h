// How a set of causes ends for the whole piece: one number to compare and one verdict.
#pragma once

#include "base/run_context.h"
#include "budget/effects/verdict.h"
#include "budget/trials/piece_trials.h"
#include "budget/trials/thin_first.h"
#include "causes/model/cause.h"
#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <span>
#include <vector>

namespace leastwall {

/// What the verdict `safe` asks for when the expected wall holds everywhere.
enum class VerdictBasis {
  worst_case, ///< the worst-case wall holds everywhere
  chance      ///< the chance of a wall under the limit is not above the accepted one
};

/// One wall of a job: what moves it, where it was measured.
struct JudgedWall {
  std::span<const Cause> causes;
  std::span<const WallSample> samples;
  /// Its own limit over the one of the options, mm: it is judged as if it were so much thinner.
  double over_mm = 0;
  /// Of the same samples, where someone has made it already.
  const ThinFirst* thin_first = nullptr;
};

struct OutcomeOptions {
  double limit_mm = 0;
  VerdictBasis basis = VerdictBasis::chance;
  double accepted_chance = 0.05;
  std::size_t trials = 20000;
  std::uint64_t seed = 1;
};

/// Of several walls: the least of them, each less what its limit is over the one asked for.
struct Outcome {
  double least_expected_mm = 0;
  double least_worst_mm = 0;
  /// The wall that holds: the least worst-case wall, or the least wall that all trials but the
  /// accepted share reach. The verdict `safe` asks for this to be no less than the limit.
  double guaranteed_mm = 0;
  Verdict verdict = Verdict::safe;
};

/// Trials allowed to fall short: the whole part of accepted x trials.
std::size_t accepted_fails(double accepted, std::size_t trials);

/// The outcome of the job: one draw of each error serves all walls, and the least counts. At least
/// one wall.
Outcome outcome_of(std::span<const JudgedWall> walls, const OutcomeOptions& options,
                   const RunContext& run);

/// The same for one wall.
Outcome outcome_of(std::span<const Cause> causes, std::span<const WallSample> samples,
                   const OutcomeOptions& options, const RunContext& run);

/// Makes `least` (per trial) the lesser of itself and `other` less `over_mm`.
void lessen(std::vector<double>& least, std::span<const double> other, double over_mm);

} // namespace leastwall
