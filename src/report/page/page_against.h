// Before and after of two checks, as HTML.
#pragma once

#include "report/comparison.h"

#include <string>

namespace leastwall {

/// A section of the page: verdict, least wall and chance of both, what differs, each wall that both
/// tell. Lengths in inches have mm beside them. Empty for none.
std::string page_against(const Comparison* against, bool inch);

} // namespace leastwall
