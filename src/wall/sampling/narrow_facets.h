// Long narrow facets cut across, like the rungs of a ladder.
//
// Halving the two long sides of a narrow facet and joining the middles leaves three facets as
// narrow as it was, so cutting down to cells of one length would make three times as many for each
// halving. Here both sides get all their points at once, and rungs between them: as many cells as
// points.
#pragma once

#include "mesh/mesh.h"

#include <cstdint>
#include <unordered_map>
#include <vector>

namespace leastwall {

struct CutAcross {
  TriMesh mesh; ///< corners of the mesh first, then those added
  /// Middles of edges, by edge_key (mesh/edge_key.h). Others that share such an edge must use the
  /// same middle.
  std::unordered_map<std::uint64_t, std::uint32_t> middles;
};

/// Cuts the facets of `mesh` that are longer than `spacing_mm` and four times as long as wide into
/// cells with all edges under the spacing, or under some two widths where that is more. Other
/// facets are left alone, also those beside.
CutAcross cut_narrow_facets(TriMesh mesh, double spacing_mm);

/// Is there one of those?
bool has_narrow_facets(const TriMesh& mesh, double spacing_mm);

} // namespace leastwall
