// A ball bit is larger or smaller than the program assumes.
#pragma once

#include "causes/model/cause.h"
#include "causes/model/cuts.h"

#include <vector>

namespace leastwall {

/// Ball radius larger than assumed by dR, tip touched off. The tip is where it should be, so the
/// ball's centre sits dR higher, which takes the ball away from a surface with normal m by m_z dR,
/// while its larger radius brings it nearer by dR: it cuts (1 - m_z) dR too deep, and the wall is
/// thinner by (1 - |n_z|) dR. Nothing at the bottom of a form, all of it on a steep wall.
void add_ball_radius(const CutView& cut, std::vector<Cause>& causes);

} // namespace leastwall
