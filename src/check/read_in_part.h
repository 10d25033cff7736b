// Readings of bed and board that do not reach under the piece.
#pragma once

#include "base/notice.h"
#include "setup/setup.h"
#include "space/footprint.h"

#include <vector>

namespace leastwall {

/// Codes "bed-read-in-part" and "board-read-in-part", unproven: less than half of the board
/// (`board`, model x, y) lies within what was read, so most of what the walls rest on is a guess.
/// Readings along one line cover nothing.
std::vector<Notice> read_in_part(const Setup& setup, const Footprint& board);

} // namespace leastwall
