// A bed that was read: how far it lifts the board on each side.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "causes/model/cuts.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// Appends the known shift of one side (errors of the readings: reading_errors.h). Derivation, in
/// heights as the spindle sees them: with the board's lower face at h under every point, side A's
/// pocket face is at h(a) + t at the touch point; the floor is cut d below it, that is
/// h(a) - h(x) + t - d above the lower face at x. Zero on the bed gives r - h(x) + T - d with r the
/// bed's height at the touch point. Side B the same with the skin. So on either side
///   E(x) = -(h(x) - r),   r = h(touch point) for zero on top, bed height there for zero on the
///   bed.
/// Side B lies turned over: h is read at the mirrored place.
/// * pressed: h = bed under every point.
/// * rigid: h = plane on the high points (resting_tilts.h). The board lies the same way while it is
///   touched and cut, but nothing says which way where it rocks: at each sample the thinnest wall
///   of all resting tilts counts, each side for itself. E is linear in the tilt (for zero on top
///   the plane under the touch point tips as well), so the extreme tilts are enough.
/// * unknown: both are computed, at each sample and side the thinner counts.
/// Two cuts with the same face up lie on the same bed: the wall between them takes what both take,
/// added up (told with the inner cut; nothing where both hang from the same datum, unless the board
/// rocks and may lie one way for one cut and the other way for the other). A board is stiff for
/// both or pressed for both.
/// Beyond the readings the board is taken to lie as high as the highest reading, and a touch point
/// as low as the lowest (thinner wall); an assumption says so.
void add_bed_lift(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                  std::vector<Assumption>& assumptions);

} // namespace leastwall
