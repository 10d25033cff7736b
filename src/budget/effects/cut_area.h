// Where, seen from above, both programs cut the part.
#pragma once

#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <span>

namespace leastwall {

/// True where the part is cut, so that no face of the board is left to touch there: a sample lies
/// within `near_mm` across, or samples lie on all four sides (left and right, above and below
/// taken together). Waste in a notch of the part may count as cut. Model x, y.
bool cut_there(std::span<const WallSample> samples, Point2 at, double near_mm);

} // namespace leastwall
