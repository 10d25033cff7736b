// Before and after of two checks for a terminal.
#pragma once

#include "report/comparison.h"
#include "report/text/text_report.h"

#include <string>

namespace leastwall {

/// Verdict, least wall and chance of both, what differs in the set-up and in the meshes, and each
/// wall that both tell. What one of them does not tell is "not told". Lines as wide as
/// `options.width` at most.
std::string against_text(const Comparison& against, const TextOptions& options);

} // namespace leastwall
