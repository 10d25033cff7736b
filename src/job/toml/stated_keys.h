// Every value of a job file with the name of its key, so that two jobs can be compared.
#pragma once

#include "base/stated_key.h"
#include "job/toml/job_node.h"

#include <vector>

namespace leastwall {

/// In the order of the file. The tables of an array are named by their `name`, else counted from 1.
/// A list too long to read is shown by its beginning, its length and a mark that changes with it.
std::vector<StatedKey> stated_keys(const JobNode& tree);

} // namespace leastwall
