// Whether a check fits into memory, asked of its meshes before they are measured.
#pragma once

#include "app/check_piece.h"
#include "app/memory_need.h"

namespace leastwall {

/// Throws RunError when the check does not fit into `limit_bytes` (unset: what is free). Cells are
/// counted only where the most that there can be would not fit.
/// `size` says what is written; the rest of it is filled in here.
void require_memory_for(const CheckInput& input, CheckSize size,
                        std::optional<std::uint64_t> limit_bytes, const RunContext& run);

} // namespace leastwall
