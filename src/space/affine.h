// A placing: turn, scale, shear, mirror and shift, in double precision.
#pragma once

#include "space/vec3.h"

namespace leastwall {

/// p goes to x * p.x + y * p.y + z * p.z + shift.
struct Affine {
  Vec3 x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1}, shift{};

  Vec3 turn(Vec3 p) const { return x * p.x + y * p.y + z * p.z; }
  Vec3 apply(Vec3 p) const { return turn(p) + shift; }
  /// First `inner`, then this.
  Affine after(const Affine& inner) const {
    return {turn(inner.x), turn(inner.y), turn(inner.z), apply(inner.shift)};
  }
  /// Volume of what a unit cube becomes; below 0 for a placing that mirrors.
  double determinant() const { return dot(x, cross(y, z)); }
};

} // namespace leastwall
