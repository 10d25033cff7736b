// A given pocket changed only where the wall that the job needs is not there.
//
// Asked for as in hollow_job.h: limit + a part of the half-width of all errors - known shift; the
// smallest part for which the check of the result holds is bisected, and each try is checked on
// exact triangles.
#pragma once

#include "base/run_context.h"
#include "check/check_job.h"
#include "check/memory_need.h"
#include "check/piece_input.h"
#include "report/hollow_report.h"
#include "report/mend_report.h"

#include <cstddef>
#include <variant>
#include <vector>

namespace leastwall {

struct Mended {
  TriMesh pocket;  ///< model frame; coordinates that its file holds
  TriMesh written; ///< as its file holds it; facets that did not change as in the file given
  std::vector<double> moved_mm; ///< by corner of the pocket: how far it went
  MendReport report;
  std::size_t wall = 0;    ///< of the job: between this pocket and what it lies in
  JobResult before, check; ///< of the job with the pocket as it was, and with this one
};

/// The walls of this pocket hold as it is.
struct NothingToMend {
  std::size_t wall = 0;
  JobResult check;
};

/// The pocket whose walls hold; or that nothing is to be mended; or why none can. Other walls of
/// the job that held before hold with it, too. Throws InputError, one line, where the job does not
/// state the ball or the pocket's mesh has edges of three facets; RunError when the check needs
/// more than `memory`; Cancelled.
std::variant<Mended, NothingToMend, NoPocket>
mend_job(const JobWithPocket& job, const MemoryLimit& memory, const RunContext& run);

} // namespace leastwall
