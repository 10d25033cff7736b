// Lids whose corners moved: facets that turned over are put right.
#pragma once

#include "mesh/mesh.h"

#include <cstdint>
#include <vector>

namespace leastwall {

/// Of `mesh` the facets that lie level, and still do with its corners moved to `to`: an ear that
/// turned over by that is put right by the other diagonal of it and a neighbour, where that leaves
/// both looking as they did. `touched`: facets with a corner that moved. Changes facets of `mesh`
/// in their places and returns which, some perhaps twice.
std::vector<std::uint32_t> flip_level_facets(TriMesh& mesh, const std::vector<Vec3>& to,
                                             const std::vector<bool>& touched);

} // namespace leastwall
