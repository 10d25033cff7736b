// What upright ball bits take away together, as a set of points.
#pragma once

#include "hollow/ball_depths.h"

#include <optional>

namespace leastwall {

/// The union of the bits at all places of `depths`, below the pocket face: each a ball with a shaft
/// as wide above it.
class BitUnion {
 public:
  /// Keeps a reference to `depths`.
  BitUnion(const BallDepths& depths, double ball_radius_mm, double face_z_mm)
      : depths_(depths), radius_(ball_radius_mm), face_(face_z_mm) {}

  struct Near {
    Vec3 point;
    double distance_mm = 0; ///< 0: the point asked for is in the set
  };
  /// The nearest point of the set, when under `below_mm`. `p` lies no higher than the face; on it
  /// the nearest point of the set there.
  std::optional<Near> nearest(Vec3 p, double below_mm) const;

 private:
  const BallDepths& depths_;
  double radius_, face_;
};

} // namespace leastwall
