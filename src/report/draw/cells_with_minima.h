// The cells of a map as they are shown: with the local minima inside them as corners.
#pragma once

#include "wall/sampling/wall_map.h"

#include <vector>

namespace leastwall {

/// Cells of `map` in their order; a cell that holds a local minimum is cut into three at the first
/// one, two of them at the end of the list. Indices into map.samples.
std::vector<Tri> cells_with_minima(const WallMap& map);

} // namespace leastwall
