// Resurface or not, in the reports of `check` and `bed`.
#pragma once

#include "budget/advice/resurface_row.h"
#include "report/json/json_values.h"

#include <string>
#include <vector>

namespace leastwall {

/// Keys advised, verdict_now, verdict_after, depth_mm, passes, board_left_mm and what stands beside
/// them; unknown ones are left out.
Json resurface_json(const ResurfaceRow& row);

/// Sentences for a terminal: yes or no and why, depth and what is left, what to mind.
std::vector<std::string> resurface_sentences(const ResurfaceRow& row);

} // namespace leastwall
