// Whether a check fits into memory, asked of its meshes before they are measured.
#pragma once

#include "check/check_job.h"
#include "check/memory_need.h"

namespace leastwall {

/// Throws RunError when the check does not fit into `limit`. Cells are
/// counted only where the most that there can be would not fit.
/// `size` says what is written; the rest of it is filled in here.
void require_memory_for(const JobInput& job, CheckSize size, const MemoryLimit& limit,
                        const RunContext& run);

} // namespace leastwall
