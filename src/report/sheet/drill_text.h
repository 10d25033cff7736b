// What is drilled in a clamping of the board.
#pragma once

#include "report/sheet/setup_sheet.h"

#include <string>
#include <vector>

namespace leastwall {

/// A sentence for each drill and depth: what it drills, from which face, how deep and where, in
/// program coordinates of the side. Of a job of several clampings that of `input` alone.
std::vector<std::string> drill_text(const SetupSheetInput& input, Side side, bool inch);

/// The drills alone, one sentence; empty where nothing is drilled.
std::string drills_in_brief(const SetupSheetInput& input, Side side, bool inch);

} // namespace leastwall
