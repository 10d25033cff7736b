// The last steps between a job that was read and its check.
#pragma once

#include "check/piece_input.h"

#include <optional>
#include <string>

namespace leastwall {

/// Makes `job` ready for check_job(): the reading of its witness pad, where one was given, and how
/// far the piece reaches. `job_file`: for messages, empty for two meshes. Throws InputError where
/// the job has several walls and so no pad, where the bed was not read under the piece, or where
/// two surfaces of a wall are one mesh.
void prepare_input(JobInput& job, const std::string& job_file,
                   std::optional<double> pad_reading_mm);

} // namespace leastwall
