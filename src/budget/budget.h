// From measured walls and a set-up to expected wall, worst case, chance, verdict and advice.
#pragma once

#include "base/assumption.h"
#include "base/notice.h"
#include "base/run_context.h"
#include "base/units.h"
#include "budget/advice/resurface_row.h"
#include "budget/budget_rows.h"
#include "budget/pad/witness_pad.h"
#include "causes/model/cause.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace leastwall {

struct BudgetOptions {
  double limit_mm = 0.8;
  VerdictBasis basis = VerdictBasis::chance;
  double accepted_chance = 0.05; ///< 1 in 20
  std::uint64_t trials = 20000;  ///< 1 to kMaxTrials
  std::uint64_t seed = 1;
  /// Places that are not among the samples, or only coarsely, have a wall of at least this.
  double measured_to_mm = std::numeric_limits<double>::infinity();
  bool with_allowed = true; ///< fill CauseRow::largest_allowed_mm
  bool with_advice = true;  ///< fill Budget::advice when the verdict is not `safe`
  std::optional<WitnessPad> pad;
  LengthUnit units = LengthUnit::mm; ///< of the job, for what advice writes into it
};

/// "1 in 37"; "none" for 0, "less than 1 in N" is for the caller, who knows the trials.
std::string one_in(double chance);

inline constexpr std::uint32_t kNoCause = std::numeric_limits<std::uint32_t>::max();

struct Budget {
  /// Per sample, in the order of the samples.
  std::vector<double> expected_mm, worst_mm;
  std::vector<std::uint32_t> worst_cause; ///< index into `causes`: thins the wall most, or kNoCause

  struct Least {
    std::size_t sample = 0; ///< with the least expected wall (the first of equals)
    double expected_mm = 0; ///< expected wall there
    double worst_mm = 0;    ///< least worst-case wall of all samples
    /// Between these the wall at that sample lies in 95 % of the trials (place_spread.h).
    double spread_low_mm = 0, spread_high_mm = 0;
  } least;

  Verdict verdict = Verdict::safe;
  std::string verdict_basis; ///< what the verdict rests on, in words

  std::optional<ChanceRow> chance;
  /// Of each trial the least wall where that is under the limit or under `guaranteed_mm`; else no
  /// less than both.
  std::vector<double> trial_least_mm;
  /// The wall that can be counted on: least worst-case wall, or the one that all trials but the
  /// accepted share reach.
  double guaranteed_mm = 0;
  std::vector<CauseRow> causes;
  std::vector<Cause> cause_model; ///< what each row of `causes` is computed with
  std::vector<AdviceRow> advice;
  std::optional<ResurfaceRow> resurface; ///< with advice, where something is known of the bed
  std::optional<PadReport> pad;
  std::vector<Assumption> assumptions;
  std::vector<Notice> warnings;
};

/// The whole budget. The same result for the same input on any number of threads. Throws
/// InputError when there are no samples, a sample or an option is not a usable number, or the
/// set-up contradicts itself; Cancelled.
Budget compute_budget(const Setup& setup, std::span<const WallSample> samples,
                      const BudgetOptions& options, const RunContext& run);

} // namespace leastwall
