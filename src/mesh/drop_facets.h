// Facets that describe no surface, or one that is there already.
#pragma once

#include "mesh/mesh.h"

#include <cstddef>

namespace leastwall {

/// Removes every facet that has the same three corners as an earlier one, whichever way round.
/// `mesh` must be welded. Returns how many were removed. Linear time.
std::size_t drop_doubled_facets(TriMesh& mesh);

/// Removes facets whose height is at most a thousand-millionth of their longest side (corners in a
/// line). That moves the surface by less than a nanometre per metre. Returns how many.
std::size_t drop_flat_facets(TriMesh& mesh);

/// Removes vertices that no facet uses; the others keep their order.
void drop_unused_vertices(TriMesh& mesh);

} // namespace leastwall
