// Whether the datum of a side can be touched at a place at all.
#pragma once

#include "base/notice.h"
#include "setup/setup.h"
#include "wall/wall_map.h"

#include <span>
#include <vector>

namespace leastwall {

enum class TouchPlace {
  good,
  under_board, ///< zero on the bed, and the board lies on that place
  cut_away     ///< zero on top, touched again after roughing, and the part is cut there
};

/// `at`: a point of the part, model x, y. `setup.board.footprint` must be set.
TouchPlace touch_place(const Setup& setup, Side side, Point2 at,
                       std::span<const WallSample> samples);

/// One warning for each side whose stated touch point cannot serve. Codes touch-under-board,
/// touch-cut-away.
std::vector<Notice> touch_notices(const Setup& setup, std::span<const WallSample> samples);

} // namespace leastwall
