// How much thinner the errors of a set-up can make a wall, before any wall is measured.
#pragma once

#include "geometry/box.h"
#include "setup/setup.h"

namespace leastwall {

/// The largest known thinning plus half-widths (worst case) found over places spread through `box`
/// (of both meshes, model space, mm) and directions from straight down to level: how far above the
/// limit a wall must be measured finely. A guide, not a bound. The rectangle of the box stands in
/// for a footprint that was not stated. 0 or more. Throws InputError as causes_of does.
double reach_mm(const Setup& setup, const Box& box);

} // namespace leastwall
