#include "check/prepare_input.h"

#include "base/errors.h"
#include "check/bed_under_piece.h"

namespace leastwall {

void prepare_input(JobInput& job, const std::string& job_file,
                   std::optional<double> pad_reading_mm) {
  if (!job.one_wall() && pad_reading_mm)
    throw InputError("this job has several walls: leave --pad-reading out; the witness pad stands "
                     "for one wall");
  require_bed_under_piece(job, job_file, "bed.origin");
  fill_reach(job);
  if (pad_reading_mm) {
    std::optional<WitnessPad>& pad = job.walls.front().input.budget.pad;
    if (!pad)
      pad.emplace();
    pad->reading_mm = pad_reading_mm;
  }
}

} // namespace leastwall
