// How much thinner and thicker the errors of a set-up can make a wall, before any wall is measured.
#pragma once

#include "setup/setup.h"
#include "space/box.h"

namespace leastwall {

struct Reach {
  double thinner_mm = 0; ///< largest known thinning plus half-widths (worst case), 0 or more
  double thicker_mm = 0; ///< largest known thickening, 0 or more
};

/// Found over places spread through `box` (of both meshes, model space, mm) and directions from
/// straight down to level: how far above the limit, and above the least wall, a wall must be
/// measured finely. A guide, not a bound. The rectangle of the box stands in for a footprint that
/// was not stated. Throws InputError as causes_of does.
Reach reach_of(const Setup& setup, const Box& box);

} // namespace leastwall
