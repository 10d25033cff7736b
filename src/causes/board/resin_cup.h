// Resin pulls the board hollow between side A and side B.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// Resin that shrinks pulls the pocket face hollow; that face is down on side B, so the board
/// stands on its edges and its middle is lifted by the measured g. The shape is taken as a bow of
/// equal curvature every way over the footprint, g at the middle and 0 at the corners. E = -lift(x)
/// for zero on the bed (-g in the middle), plus the lift at the touch point for zero on top.
void add_resin_cup(const Setup& setup, std::vector<Cause>& causes,
                   std::vector<Assumption>& assumptions);

} // namespace leastwall
