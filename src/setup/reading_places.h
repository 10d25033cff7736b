// Where on the part the heights of bed and board were read.
#pragma once

#include "setup/setup.h"

#include <vector>

namespace leastwall {

/// Model x, y of every reading of the bed, as the part lies on side A and again as it lies on side
/// B, and of every reading of the board's thickness. What is computed with them has its peaks
/// there.
std::vector<Point2> reading_places(const Setup& setup);

/// Of each table only the highest and the lowest reading.
std::vector<Point2> extreme_reading_places(const Setup& setup);

} // namespace leastwall
