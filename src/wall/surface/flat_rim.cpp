#include "wall/surface/flat_rim.h"

#include "base/maths/hypot.h"
#include "mesh/mesh_edges.h"
#include "wall/surface/machined_surface.h"

#include <cmath>
#include <cstdint>
#include <span>

namespace leastwall {

std::optional<double> flat_rim(const TriMesh& mesh) {
  Box box; // of what is used
  for (const Tri& t : mesh.triangles)
    for (const std::uint32_t v : t)
      box.add(mesh.vertices[v]);
  const double tolerance = plane_tolerance_mm(box), from = box.high.z - tolerance;
  double open = 0, flat = 0;
  MeshEdges(mesh).for_each(
      [&](std::uint32_t, std::uint32_t, std::span<const std::uint32_t> halves) {
        if (halves.size() != 1)
          return;
        const HalfEdgeEnds ends = ends_of(mesh, halves[0]);
        const Vec3 a = mesh.vertices[ends.from], b = mesh.vertices[ends.to];
        const Tri& t = mesh.triangles[halves[0] / 3];
        const std::uint32_t k = halves[0] % 3;
        const double along = maths::hypot(b.x - a.x, b.y - a.y);
        open += along;
        if (a.z >= from && b.z >= from && mesh.vertices[t[k == 0 ? 2 : k - 1]].z < from - tolerance)
          flat += along;
      });
  return flat > 0.5 * open ? std::optional(box.high.z) : std::nullopt;
}

} // namespace leastwall
