// One place of a wall: what a map is made of, and what an error is asked at.
#pragma once

#include "space/vec3.h"

namespace leastwall {

/// The wall at one point of the surface it was measured on, and as causes see it.
struct WallSample {
  Vec3 at; ///< on the measured surface, model space, mm
  Vec3 n;  ///< unit, through the wall, from the pocket side towards the skin side
  /// Nearest distance to the other surface; <= 0 where it is cut through. Of a sample on the skin
  /// the nearest point of the pocket is at - n * wall.
  double wall_mm = 0;
};

} // namespace leastwall
