#include "report/draw/mesh_section.h"

namespace leastwall {

std::vector<std::array<SectionPoint, 2>> mesh_section(const TriMesh& mesh, Vec3 through, double dx,
                                                      double dy) {
  const auto across = [&](Vec3 v) { return (v.y - through.y) * dx - (v.x - through.x) * dy; };
  const auto point = [&](Vec3 v) {
    return SectionPoint{(v.x - through.x) * dx + (v.y - through.y) * dy, v.z};
  };
  std::vector<std::array<SectionPoint, 2>> out;
  for (const Tri& t : mesh.triangles) {
    std::array<SectionPoint, 2> ends;
    std::size_t n = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      const Vec3 a = mesh.vertices[t[i]], b = mesh.vertices[t[(i + 1) % 3]];
      const double da = across(a), db = across(b);
      if ((da < 0) != (db < 0)) // a corner in the plane counts as on one side of it
        ends[n++] = point(a + (b - a) * (da / (da - db)));
    }
    if (n == 2)
      out.push_back(ends);
  }
  return out;
}

} // namespace leastwall
