// What several walls come to together: the chance that any of them fails, and what may be done.
#pragma once

#include "budget/budget.h"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// One wall of a job with what was computed for it alone (compute_budget()).
struct BudgetOfWall {
  const Setup* setup = nullptr; ///< its board's footprint is set
  std::span<const WallSample> samples;
  const Budget* budget = nullptr;
  double limit_mm = 0;
  double measured_to_mm = 0; ///< BudgetOptions::measured_to_mm
};

struct JobBudget {
  std::size_t governing = 0; ///< the wall that decides: worst verdict, likeliest to fail
  Verdict verdict = Verdict::safe;
  ChanceRow chance; ///< of a job with a wall under its own limit
  /// The governing wall's, with how large each may be for the whole job.
  std::vector<CauseRow> causes;
  std::vector<AdviceRow> advice;
  std::optional<ResurfaceRow> resurface;
};

/// The errors of a set-up, a bit, the board, the bed and the flip are one draw in each trial for
/// all walls that have them (CauseId), so trial t of one wall and trial t of another are one piece:
/// it fails where any of its walls does. `skin` joins the samples of all skins, for advice alone:
/// they are made only where they are asked for, when the trials' memory is free again. `options`:
/// limit and pad are not used; `board_stated`: by the job. At least one wall; all budgets with the
/// same trials and seed.
JobBudget judge_job(std::span<const BudgetOfWall> walls,
                    const std::function<std::vector<WallSample>()>& skin,
                    const BudgetOptions& options, bool board_stated, const RunContext& run);

} // namespace leastwall
