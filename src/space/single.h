// Coordinates as files in single precision hold them.
#pragma once

#include "space/vec3.h"

namespace leastwall {

/// The nearest number that single precision holds. By way of memory: GCC 12 leaves a cast to float
/// and back out where it joins such casts of several numbers.
double in_single(double v);
Vec3 in_single(Vec3 v);

} // namespace leastwall
