// Advice: every alternative computed anew and ranked.
#pragma once

#include "budget/advice/advice_row.h"
#include "budget/advice/alternatives.h"
#include "budget/advice/wall_of_job.h"
#include "budget/trials/outcome.h"
#include "setup/setup.h"

#include <span>
#include <string>
#include <vector>

namespace leastwall {

/// Gains smaller than this are not worth a line, mm.
inline constexpr double kSmallestGain = 0.001;

/// One change and how the piece ends with it.
struct Tried {
  Alternative alternative;
  Outcome outcome;
};

/// Computes every alternative for the first of `walls` that can be computed (one may need a value
/// that no one stated), with what it means for the others. `skin`: samples of all skins, where no
/// datum can be touched; `board_stated`: the job states where the board lies.
std::vector<Tried> try_alternatives(std::span<const WallOfJob> walls,
                                    std::span<const WallSample> skin, const OutcomeOptions& options,
                                    Point2 thinnest, bool board_stated, const RunContext& run);

/// The best verdict that one free change gives, the largest gain of equals; null when none gains.
const Tried* best_free_change(std::span<const Tried> tried, const Outcome& now);

/// Changes that gain, ranked: those that make the verdict `safe` first, cheapest first (free, work,
/// model), larger gain first; then the others by gain. What is wanted only if needed is listed only
/// if it makes the verdict better than now and than any free change does. The last resort is a
/// thicker wall in the model, just thick enough (a wall d thicker everywhere is d thicker in every
/// trial). The gain is that of Outcome::guaranteed_mm, the wall that can be counted on. What to
/// write into the job has lengths in `units`.
std::vector<AdviceRow> advice_for(std::span<const Tried> tried, const OutcomeOptions& options,
                                  const Outcome& now, LengthUnit units);

} // namespace leastwall
