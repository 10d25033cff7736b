// How large a facet is, and all of them.
#pragma once

#include "mesh/mesh.h"

namespace leastwall {

/// mm2.
inline double facet_area(const TriMesh& mesh, const Tri& t) {
  const Vec3 a = mesh.vertices[t[0]];
  return 0.5 * length(cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a));
}

/// Of all facets, mm2.
inline double area_of(const TriMesh& mesh) {
  double sum = 0;
  for (const Tri& t : mesh.triangles)
    sum += facet_area(mesh, t);
  return sum;
}

} // namespace leastwall
