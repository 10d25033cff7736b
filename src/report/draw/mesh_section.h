// Where a mesh passes through an upright plane.
#pragma once

#include "mesh/mesh.h"

#include <array>
#include <vector>

namespace leastwall {

/// A point of the plane: mm along it and height.
struct SectionPoint {
  double along_mm = 0, z_mm = 0;
};

/// One piece for each facet that the plane cuts; `through`: a point of the plane, where `along` is
/// 0; `dx`, `dy`: unit, the plane's direction. Facets that lie in the plane leave nothing.
std::vector<std::array<SectionPoint, 2>> mesh_section(const TriMesh& mesh, Vec3 through, double dx,
                                                      double dy);

} // namespace leastwall
