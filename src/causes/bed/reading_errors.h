// What the errors of the bed's readings do to the wall.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// Appends the cause. Every reading has one error of its own. The bed's height at a place is
/// sum_i w_i z_i over the readings around it (bilinear or on a triangle), so with E(x) of
/// bed_lift.h
///   dE(x) = sum over cuts of  height * sum_i [w_i(touch point) - w_i(x)] e_i
/// (CutView::height, +1 for pocket and skin), the place on side B being the mirrored one. A reading
/// that serves both sides (on the flip line), or the wall and a touch point, is one error: at the
/// touch point itself it cancels, on the flip line it counts twice. Beyond the readings the highest
/// one stands in under the wall and the lowest under a touch point, as in bed_lift. A stiff board
/// takes the same weights as one that is pressed: its high points carry errors of the same size,
/// but which readings they are is not followed.
void add_reading_errors(const Setup& setup, std::vector<Cause>& causes,
                        std::vector<Assumption>& assumptions);

} // namespace leastwall
