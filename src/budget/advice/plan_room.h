// How far things that stand beside the part are from it, seen from above.
#pragma once

#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <span>

namespace leastwall {

/// Distance from `at` to the part seen from above, mm; 0 on it. The part is what `cells` cover,
/// however large they are. Infinite where there are none. Model x, y.
double plan_distance(std::span<const WallSample> samples, std::span<const Tri> cells, Point2 at);

/// Whether the level square of 2 `half_mm` round `at` and the part have a point in common seen from
/// above.
bool square_meets_part(std::span<const WallSample> samples, std::span<const Tri> cells, Point2 at,
                       double half_mm);

} // namespace leastwall
