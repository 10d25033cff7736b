#include "mesh_sense.h"

#include "mesh/weld_mesh.h"
#include "stated_outcome.h"

#include <cmath>

namespace leastwall::fuzz {

void require_sense(const LoadedMesh& loaded) {
  const TriMesh& mesh = loaded.mesh;
  require(!mesh.triangles.empty(), "an accepted mesh has facets");
  std::vector<bool> used(mesh.vertices.size(), false);
  for (const Tri& t : mesh.triangles) {
    for (const std::uint32_t corner : t) {
      require(corner < mesh.vertices.size(), "a corner names a vertex");
      used[corner] = true;
    }
    require(t[0] != t[1] && t[1] != t[2] && t[2] != t[0], "a facet has three corners");
  }
  for (std::size_t v = 0; v < mesh.vertices.size(); ++v) {
    require(is_finite(mesh.vertices[v]), "vertices are finite");
    require(used[v], "every vertex is used");
  }
  const MeshFindings& found = loaded.findings;
  require(found.triangles == mesh.triangles.size(), "facets are counted");
  require(found.vertices == mesh.vertices.size(), "vertices are counted");
  require(std::isfinite(found.area_mm2) && found.area_mm2 >= 0, "the area is finite");
  require(std::isfinite(found.boundary_length_mm), "the boundary has a length");
  std::size_t in_components = 0;
  for (const MeshComponent& component : found.components)
    in_components += component.triangles;
  require(!found.components.empty() && in_components >= mesh.triangles.size(),
          "components hold every facet");
  require_plain(loaded.notices);
  require(is_plain_line(loaded.format) && is_plain_line(loaded.unit), "format and unit are plain");

  TriMesh again = mesh;
  require(weld_mesh(again) == 0 && again.vertices.size() == mesh.vertices.size(),
          "welding again changes nothing");
  orient_facets(again);
  const MeshFindings turned = inspect_mesh(again);
  require(turned.triangles == mesh.triangles.size(), "orienting loses no facet");
  require(turned.misoriented_edges <= found.misoriented_edges, "orienting makes nothing worse");
}

} // namespace leastwall::fuzz
