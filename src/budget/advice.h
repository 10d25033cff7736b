// Advice: every alternative computed anew and ranked.
#pragma once

#include "budget/budget_rows.h"
#include "budget/outcome.h"
#include "setup/setup.h"

#include <span>
#include <string>
#include <vector>

namespace leastwall {

/// Gains smaller than this are not worth a line, mm.
inline constexpr double kSmallestGain = 0.001;

/// Changes that gain, ranked: those that make the verdict `safe` first, cheapest first (free, work,
/// model), larger gain first; then the others by gain. The last resort is a thicker wall in the
/// model, just thick enough (a wall d thicker everywhere is d thicker in every trial). `now` is the
/// outcome of `setup`; the gain is that of Outcome::holding_mm, the wall that can be counted on.
std::vector<AdviceRow> advice_for(const Setup& setup, std::span<const WallSample> samples,
                                  const OutcomeOptions& options, const Outcome& now,
                                  Point2 thinnest, const RunContext& run);

/// "Zero side B on top of the board: +0.30 mm at the thinnest place".
std::string advice_sentence(const AdviceRow& row);

} // namespace leastwall
