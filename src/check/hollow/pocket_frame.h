// A pocket's mesh as its file holds it, and as the job then reads it.
#pragma once

#include "job/job.h"
#include "mesh/mesh.h"

#include <vector>

namespace leastwall {

/// From the model frame, mm, to what the file must hold so that the job, which places it so, reads
/// it back: unit and placing undone, coordinates in single precision.
TriMesh as_written(TriMesh model, const MeshPlacing& placing);

/// Corners as loaded, mm before they are placed, as their file holds them.
std::vector<Vec3> in_file(const std::vector<Vec3>& loaded, const MeshPlacing& placing);

/// What the job reads from such a file: model frame, mm.
TriMesh as_read(TriMesh written, const MeshPlacing& placing);

} // namespace leastwall
