// The outline of a skin where it meets the pocket face: there two halves are glued.
#pragma once

#include "mesh/mesh.h"
#include "space/vec3.h"

#include <vector>

namespace leastwall {

/// One straight piece of the outline.
struct RimPoint {
  Vec3 at; ///< its middle, on the pocket face
  /// Unit normal of the facet there; its part in the plane runs across the outline, to a side that
  /// is the same for both halves of a pair.
  Vec3 n;
  double length_mm = 0;
};

/// A facet flatter than this against the pocket face has no outline to speak of: a small change of
/// height moves it far. Part of the normal in the plane.
inline constexpr double kLeastRimSteepness = 0.2;

struct Rim {
  std::vector<RimPoint> points;
  double flat_mm =
      0; ///< length of the outline where the skin is flatter than that; not in `points`
};

/// The skin cut by a plane close under the pocket face (0.02 mm). Nothing where it ends deeper.
Rim rim_of(const TriMesh& skin, double face_z_mm);

} // namespace leastwall
