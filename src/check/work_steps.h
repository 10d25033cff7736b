// The set-ups of a job as steps of work, for the setup sheet.
#pragma once

#include "check/check_job.h"
#include "report/sheet/setup_sheet.h"

#include <vector>

namespace leastwall {

/// One step: what is said of it, how the board is set up, and the thin places of the walls that it
/// cuts.
struct WorkStep {
  SheetStep step;
  Setup setup; ///< the step's set-up as that of its side
  CheckReport report;
};

/// The set-ups of side A in the order of cutting, then those of side B.
std::vector<WorkStep> work_steps(const JobResult& job);

/// The parts as they lie on the board.
std::vector<PartMark> part_marks(const JobResult& job);

/// The whole setup sheet of a job with several walls.
std::string job_sheet(const JobResult& job, const SetupSheetOptions& options);

} // namespace leastwall
