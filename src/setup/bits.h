// The bits: tip height, ball radius, sideways overcut.
#pragma once

#include "setup/cause.h"
#include "setup/setup.h"

#include <vector>

namespace leastwall {

/// Tip-height error c of the bit that makes the final surface of a side, positive = tip too high:
/// the whole surface is cut c too shallow, E = +c.
void add_tip_height(const Setup& setup, Side side, std::vector<Cause>& causes);

/// Ball radius larger than assumed by dR, tip touched off. The tip is where it should be, so the
/// ball's centre sits dR higher, which takes the ball away from a surface with normal m by m_z dR,
/// while its larger radius brings it nearer by dR: it cuts (1 - m_z) dR too deep, and the wall is
/// thinner by (1 - |n_z|) dR. Nothing at the bottom of a form, all of it on a steep wall.
void add_ball_radius(const Setup& setup, Side side, std::vector<Cause>& causes);

/// Runout and flex let the bit cut at most s sideways beyond its path, never less. A sideways shift
/// s of the surface takes its part along n: sqrt(1 - n_z^2) s, always thinner.
void add_runout(const Setup& setup, Side side, std::vector<Cause>& causes);

} // namespace leastwall
