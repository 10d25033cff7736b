// Holes of a body closed for questions along vertical lines: a sum over all open edges for every
// point would grow as their number times that of the points.
#pragma once

#include "mesh/mesh.h"

#include <array>
#include <cstdint>
#include <vector>

namespace leastwall {

/// An open edge, directed as in its facet: numbers of vertices.
using OpenEdge = std::array<std::uint32_t, 2>;

/// One cone for each connected run of open edges, from the edges to the middle of the run, facing
/// so that mesh and cones together are closed. Where a run is the edge of a hole the cone fills it;
/// where it is the outline of a piece of a torn mesh it does not belong there, so ask whether the
/// cones may be trusted (inside_test.cpp). Linear in the edges.
TriMesh close_holes(const TriMesh& mesh, const std::vector<OpenEdge>& edges);

} // namespace leastwall
