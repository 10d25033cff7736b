// A facet's corners and what they span.
#pragma once

#include "mesh/mesh.h"
#include "spatial/triangle_distance.h"

#include <vector>

namespace leastwall {

inline TriangleCorners corners(const std::vector<Vec3>& vertices, const Tri& t) {
  return {vertices[t[0]], vertices[t[1]], vertices[t[2]]};
}

/// As long as the facet's area, mm2, along the side that it looks to.
inline Vec3 area_vector(const TriangleCorners& t) {
  return cross(t[1] - t[0], t[2] - t[0]) * 0.5;
}

} // namespace leastwall
