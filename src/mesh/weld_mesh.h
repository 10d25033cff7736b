// Exact welding of a mesh.
#pragma once

#include "mesh/mesh.h"

#include <cstddef>

namespace leastwall {

/// Merges vertices with equal coordinates (-0 equals +0; no tolerance). Vertices are then numbered
/// in the order in which the triangles first use them; unused ones go. Triangles that no longer
/// have three different corners are removed; returns how many. Coordinates must be finite, indices
/// in range.
std::size_t weld_mesh(TriMesh& mesh);

} // namespace leastwall
