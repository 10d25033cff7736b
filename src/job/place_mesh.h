// Lays a mesh as the job says.
#pragma once

#include "job/job.h"
#include "mesh/mesh.h"

namespace leastwall {

/// Stands up, mirrors, turns and shifts `mesh` (already in mm) in the order MeshPlacing states; a
/// mirrored mesh has its facets turned so that they look the same way out. Quarter turns are exact.
void place_mesh(TriMesh& mesh, const MeshPlacing& placing);

} // namespace leastwall
