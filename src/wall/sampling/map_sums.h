// Sums over all of a map, in an order that threads do not change.
#pragma once

#include "base/run_context.h"
#include "wall/sampling/wall_map.h"

namespace leastwall {

/// Area in mm2 of all cells, or of those that lie in the air with all their corners, deeper than
/// touching.
double area_of(const WallMap& map, bool only_in_air, const RunContext& run);

/// The thinnest wall of all samples, mm; very large when there is none.
double thinnest_sample(const WallMap& map, const RunContext& run);

} // namespace leastwall
