// `leastwall bed`: reads and judges the bed, for itself or for the piece of a job.
#pragma once

#include "app/commands/bed_options.h"
#include "app/os/exit_status.h"

namespace leastwall {

/// Runs the command; prints the result on stdout. The status is that of the piece where a job is
/// named, else kHolds. Throws the errors of base/errors.h.
ExitStatus run_bed(const BedOptions& options);

} // namespace leastwall
