// The witness pad in words that text, JSON, page and sheet share.
#pragma once

#include "budget/budget_rows.h"

#include <string>

namespace leastwall {

/// Why no pad is to be cut, in one sentence; empty where one can be.
std::string pad_not_cut(const PadRow& pad);

/// A reading whose shift would be shown as nothing: none is to be typed in.
bool needs_no_shift(const PadRow& pad);

} // namespace leastwall
