// Every key of a job file against the table of known keys.
#pragma once

#include "base/units.h"
#include "job/toml/job_node.h"

#include <string_view>

namespace leastwall {

/// Walks the whole tree in the order of the file. Throws InputError "FILE:LINE: ..." for the first
/// unknown key (naming the nearest known one, or the table it belongs to), wrong kind of value,
/// word that is not known, or value out of range. `unit`: of bare numbers.
void check_keys(const JobNode& root, LengthUnit unit, std::string_view file);

} // namespace leastwall
