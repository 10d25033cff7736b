// How far the wall at one place spreads: "19 times in 20 from ... to ...".
#pragma once

#include "base/run_context.h"
#include "budget/trials/piece_trials.h"

#include <span>
#include <vector>

namespace leastwall {

struct WallSpread {
  double low_mm = 0, high_mm = 0;
};

/// The central interval that holds 95 % of `walls` (JCGM 101:2008, 7.7.2 and 7.7.4: of M sorted
/// values, with q the whole part of 0.95 M + 1/2 and r that of (M - q + 1)/2, from the r-th to the
/// (r + q)-th). Of fewer than 21 walls all of them. At least one wall.
WallSpread central_95(std::vector<double> walls);

/// central_95() of the trials' walls at one place. Expected -+ 2 u would do for many errors of like
/// size, but one rectangle of half-width a that outweighs the rest has u = a / sqrt 3 and ends at
/// a, not at 1.15 a: no trial lies beyond a limit. Normal errors have none; the worst case takes
/// two standard uncertainties of them, so the interval is cut there, too, and never reaches beyond
/// the worst case on either side.
WallSpread spread_at(std::span<const Cause> causes, const WallSample& place,
                     const TrialOptions& options, const RunContext& run);

} // namespace leastwall
