#include "spatial/mesh_section.h"

namespace leastwall {

std::optional<std::array<SectionPoint, 2>> triangle_section(const std::array<Vec3, 3>& corners,
                                                            const SectionPlane& plane) {
  const auto across = [&](Vec3 v) {
    return (v.y - plane.through.y) * plane.dx - (v.x - plane.through.x) * plane.dy;
  };
  std::array<SectionPoint, 2> ends;
  std::size_t n = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const Vec3 a = corners[i], b = corners[(i + 1) % 3];
    const double da = across(a), db = across(b);
    if ((da < 0) != (db < 0)) // a corner in the plane counts as on one side of it
      ends[n++] = plane.point(a + (b - a) * (da / (da - db)));
  }
  return n == 2 ? std::optional(ends) : std::nullopt;
}

SectionPieces mesh_section(const TriMesh& mesh, const SectionPlane& plane) {
  SectionPieces out;
  for (const Tri& t : mesh.triangles)
    if (const auto piece = triangle_section(
            {mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]}, plane))
      out.push_back(*piece);
  return out;
}

} // namespace leastwall
