// How large each cause may be, in the table of causes.
#pragma once

#include "base/run_context.h"
#include "budget/budget_rows.h"
#include "budget/trials/outcome.h"

#include <limits>
#include <span>
#include <vector>

namespace leastwall {

/// A wall, and how thin a place may be that is not among its samples, mm.
struct MeasuredWall {
  JudgedWall wall;
  double measured_to_mm = std::numeric_limits<double>::infinity();
};

/// Fills CauseRow::largest_allowed_mm of `rows`, which are those of the first wall's causes: each
/// as large as still keeps all walls `safe`. What reaches beyond what was measured is cut back and
/// marked (CauseRow::allowed_at_least).
void fill_allowed(std::span<const MeasuredWall> walls, const OutcomeOptions& options,
                  const RunContext& run, std::vector<CauseRow>& rows);

} // namespace leastwall
