// A bed of which only one number is known: highest minus lowest place.
#pragma once

#include "causes/model/cause.h"
#include "causes/model/cuts.h"
#include "setup/setup.h"

#include <vector>

namespace leastwall {

/// The wall takes -(h(x) - r) on each side (h: lower face of the board at x, r: the same at the
/// touch point, as the spindle sees them). When h lies anywhere within a band of `flatness_mm` = F
/// both h(x) and r do, so |h(x) - r| <= F on each side, any value as likely: one limit of +-F a
/// side, 2 F |n_z| together in the worst case. That holds for the same bed on both sides too,
/// because a crown counts twice; that a tilt cancels needs readings. A witness pad has another
/// place of the same bed: pad and wall differ by at most F again. Nothing when readings exist.
/// Two cuts with the same face up have the same bed under x: h(x) cancels, and r as well where both
/// hang from the same datum; else r differs by at most F, told with the inner cut.
void add_bed_flatness(const Setup& setup, const CutView& cut, std::vector<Cause>& causes);

} // namespace leastwall
