// The set-ups of a job as steps of work, for the setup sheet.
#pragma once

#include "check/check_job.h"
#include "report/sheet/setup_sheet.h"

#include <cstdint>
#include <string>
#include <vector>

namespace leastwall {

/// One step: what is said of it, how the board is set up, and the thin places of the walls that it
/// cuts.
struct WorkStep {
  SheetStep step;
  Setup setup; ///< the step's set-up as that of its side
  CheckReport report;
};

/// Board by board, the set-ups of side A in the order of cutting, then those of side B.
std::vector<WorkStep> work_steps(const JobResult& job);

/// The parts as they lie on a board.
std::vector<PartMark> part_marks(const JobResult& job, std::uint32_t board = 0);

/// The holes drilled into a board.
std::vector<HoleMark> hole_marks(const JobResult& job, std::uint32_t board = 0);

/// One more than the number of the last board.
std::uint32_t boards_of(const JobResult& job);

/// The whole setup sheet of a job with several walls.
std::string job_sheet(const JobResult& job, const SetupSheetOptions& options);

/// The card of a job, with one wall or several.
std::string job_card(const JobResult& job, const SetupSheetOptions& options);

/// The thinnest place of the wall that governs, cut through.
SectionPictureInput governing_section(const JobResult& job);

} // namespace leastwall
