// Readings of bed and board that do not reach under the piece.
#pragma once

#include "base/notice.h"
#include "setup/setup.h"
#include "space/box.h"
#include "space/footprint.h"

#include <vector>

namespace leastwall {

/// Codes "bed-read-in-part" and "board-read-in-part", unproven: less than half of the board
/// (`board`, model x, y) or less than nine tenths of the piece lies within what was read, so part
/// of what the walls rest on is a guess. Readings along one line cover nothing.
std::vector<Notice> read_in_part(const Setup& setup, const Footprint& board, const Box& piece);

} // namespace leastwall
