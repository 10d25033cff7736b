// Counted trials as chances with their intervals.
#pragma once

#include "budget/budget_rows.h"

#include <cstdint>

namespace leastwall {

/// Of `trials`, in how many some wall was under its limit, and in how many one was cut through; the
/// intervals are Clopper and Pearson's 95 %.
ChanceRow chance_row(std::uint64_t under, std::uint64_t through, std::uint64_t trials);

} // namespace leastwall
