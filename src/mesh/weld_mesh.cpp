#include "mesh/weld_mesh.h"

#include "mesh/vertex_welder.h"

namespace leastwall {

std::size_t weld_mesh(TriMesh& mesh) {
  constexpr std::uint32_t kUnseen = 0xffffffffu;
  std::vector<std::uint32_t> welded(mesh.vertices.size(), kUnseen);
  VertexWelder welder(mesh.vertices.size() < mesh.triangles.size() ? mesh.vertices.size()
                                                                   : mesh.triangles.size() / 2);
  std::size_t kept = 0;
  for (const Tri& tri : mesh.triangles) {
    Tri now{};
    for (int k = 0; k < 3; ++k) {
      std::uint32_t& index = welded[tri[k]];
      if (index == kUnseen)
        index = welder.add(mesh.vertices[tri[k]]);
      now[k] = index;
    }
    if (now[0] != now[1] && now[1] != now[2] && now[2] != now[0])
      mesh.triangles[kept++] = now;
  }
  const std::size_t removed = mesh.triangles.size() - kept;
  mesh.triangles.resize(kept);
  mesh.vertices = welder.take_points();
  return removed;
}

} // namespace leastwall
