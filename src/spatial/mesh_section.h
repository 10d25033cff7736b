// Where a mesh passes through an upright plane.
#pragma once

#include "mesh/mesh.h"

#include <array>
#include <optional>
#include <vector>

namespace leastwall {

/// A point of the plane: mm along it and height.
struct SectionPoint {
  double along_mm = 0, z_mm = 0;
};

/// One piece for each facet that the plane cuts.
using SectionPieces = std::vector<std::array<SectionPoint, 2>>;

/// An upright plane: `through`: a point of it, where `along` is 0; `dx`, `dy`: unit, its direction.
struct SectionPlane {
  Vec3 through;
  double dx = 1, dy = 0;

  SectionPoint point(Vec3 p) const {
    return {(p.x - through.x) * dx + (p.y - through.y) * dy, p.z};
  }
};

/// What the plane leaves of a triangle; absent beside it. A triangle that lies in the plane leaves
/// nothing.
std::optional<std::array<SectionPoint, 2>> triangle_section(const std::array<Vec3, 3>& corners,
                                                            const SectionPlane& plane);

SectionPieces mesh_section(const TriMesh& mesh, const SectionPlane& plane);

} // namespace leastwall
