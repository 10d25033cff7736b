// Touch-off of the bit that makes the final surface, the tool setter and the touch plate.
#pragma once

#include "causes/model/cause.h"
#include "causes/model/cuts.h"

#include <vector>

namespace leastwall {

/// Errors of the Z datum of one side, positive = the machine believes the datum higher than it is,
/// so that the side is cut too shallow and the wall is thicker, by the same amount on either side:
///   side A: the floor stands higher; side B (turned over): the skin stands higher above the bed,
///   that is farther from the floor.
/// * touch-off e: one per side. Limits or standard uncertainty.
/// * tool setter: the finishing bit hangs from the datum bit by the difference of two readings, so
///   two independent errors s more: variance s_d^2 + 2 s_s^2 a side. Not when every bit touches.
/// * plate thicker than entered by p: the bit touches at datum + p + entered and takes that for
///   datum + entered, so the datum is believed p too high: +p on each side that used the plate.
/// Appended only where the size is not zero.
void add_touch_off(const CutView& cut, std::vector<Cause>& causes);

} // namespace leastwall
