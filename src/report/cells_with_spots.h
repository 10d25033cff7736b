// The cells of a map as they are shown: with the thin spots inside them as corners.
#pragma once

#include "wall/wall_map.h"

#include <vector>

namespace leastwall {

/// Cells of `map` in their order; a cell that holds a spot is cut into three at the first one, two
/// of them at the end of the list. Indices into map.samples.
std::vector<Tri> cells_with_spots(const WallMap& map);

} // namespace leastwall
