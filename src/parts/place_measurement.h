// What was measured of a part, where the part lies on the board.
#pragma once

#include "parts/on_board.h"
#include "wall/measure_wall.h"

namespace leastwall {

/// Every place and direction of the measurement in the board's frame; walls stay as they are. The
/// facts about the meshes (WallMeasurement::facts) stay in the part's frame.
void place_measurement(WallMeasurement& wall, const BoardPlacing& placing);

} // namespace leastwall
