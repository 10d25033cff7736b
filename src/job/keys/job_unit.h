// The unit of a job file.
#pragma once

#include "base/units.h"
#include "job/toml/job_node.h"

#include <string_view>

namespace leastwall {

/// Of bare numbers; needed before any other value can be judged. Throws InputError "FILE:LINE: ..."
/// where `units` is no word that is known.
LengthUnit unit_of_job(const JobNode& root, std::string_view file);

} // namespace leastwall
