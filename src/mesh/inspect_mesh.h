// Facts about a mesh: what a carver's modeller got right and wrong.
#pragma once

#include "mesh/mesh.h"

#include <cstddef>
#include <vector>

namespace leastwall {

/// One connected piece (over shared edges).
struct MeshComponent {
  std::size_t triangles = 0;
  bool closed = false;          ///< every edge has exactly two facets
  bool oriented = false;        ///< neighbours run along shared edges in opposite directions
  double signed_volume_mm3 = 0; ///< positive when facets look outwards; meaningful when closed
  Box box;                      ///< mm
};

struct MeshFindings {
  std::size_t vertices = 0, triangles = 0;
  std::size_t degenerate_dropped = 0; ///< facets without area (after exact weld)
  std::size_t doubled_dropped = 0;    ///< facets with the same three corners as an earlier one
  std::size_t boundary_edges = 0;     ///< edges with one facet
  std::size_t nonmanifold_edges = 0;  ///< edges with more than two facets
  std::size_t misoriented_edges = 0;  ///< two facets that run the same way along the edge
  bool has_doubled = false;           ///< some facets stand on the same three corners
  double boundary_length_mm = 0;
  double longest_boundary_loop_mm = 0; ///< length of the longest connected run of boundary edges
  double area_mm2 = 0;
  std::vector<MeshComponent> components; ///< largest first
  Box box;                               ///< mm

  bool closed() const { return triangles > 0 && boundary_edges == 0 && nonmanifold_edges == 0; }
  /// Closed, facets agree, nothing dropped that might have left a crack, and all pieces look the
  /// same way: orient_facets() has nothing to mend.
  bool sound() const;
};

/// Counts and measures; does not change the mesh. `mesh` must be welded (see weld_mesh.h), with
/// finite coordinates. The two `dropped` counts stay 0: they belong to load_mesh.
MeshFindings inspect_mesh(const TriMesh& mesh);

/// Turns facets so that neighbours agree, component by component; closed components then look
/// outwards. Returns how many facets were turned. Non-manifold edges separate components here. In
/// one-sided components some neighbours always disagree; never more of them than before.
std::size_t orient_facets(TriMesh& mesh);

} // namespace leastwall
