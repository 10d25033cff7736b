// A pocket made from the skin alone: the largest that leaves, everywhere, the wall that the job
// needs.
//
// Asked for at a place of the skin: limit + half-width of all errors there - known shift, times and
// by the direction of the wall (budget/effects/spread.h). That holds in the worst case. As the job
// accepts a chance, the half-widths may be taken in part: the smallest part k in [0, 1] for which
// the check of the result says `safe` is bisected; each try is a whole check on exact triangles.
#pragma once

#include "base/run_context.h"
#include "check/check_job.h"
#include "check/piece_input.h"
#include "report/hollow_report.h"

#include <optional>
#include <variant>

namespace leastwall {

struct HollowOptions {
  std::optional<double> even_wall_mm; ///< > 0: this wall instead of what the errors need
  std::optional<double> cap_mm;       ///< > 0: no deeper under the pocket face
};

struct Hollowed {
  TriMesh pocket;  ///< model frame; coordinates that its file holds
  TriMesh written; ///< as its file holds it
  HollowReport report;
  JobResult check; ///< of the job with this pocket: `safe`
};

/// The pocket, or why no pocket can be safe. Throws InputError, one line, when the job does not say
/// enough (no ball radius on side A), the skin ends below the pocket face, the depth is too small
/// for the bit or the bit too fine for the skin; RunError when a check needs more than `memory`;
/// Cancelled.
std::variant<Hollowed, NoPocket> hollow_job(const JobWithPocket& job, const HollowOptions& options,
                                            const MemoryLimit& memory, const RunContext& run);

} // namespace leastwall
