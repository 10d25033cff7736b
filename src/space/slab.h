// A slab of space between two planes.
#pragma once

#include "space/vec3.h"

namespace leastwall {

/// What stands `low` to `high` mm in front of the plane through `on` that is square to the unit
/// vector `normal`.
struct Slab {
  Vec3 on, normal;
  double low = 0, high = 0;

  /// How far p stands in front of the plane, mm.
  double front(Vec3 p) const { return dot(normal, p - on); }
};

} // namespace leastwall
