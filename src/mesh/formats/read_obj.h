// OBJ: the polygons in it. Source: Alias|Wavefront, "Advanced Visualizer Manual", appendix B1
// ("Object Files").
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/file_mesh.h"

namespace leastwall {

/// All faces of all groups and objects, as one mesh. Strict: a vertex has three numbers (a weight
/// of 1 or a colour may follow), a face three corners or more, each the number of a vertex, counted
/// from 1, or back from the last one. Points and lines are left out (notice `points-or-lines`);
/// names, materials, normals and texture places are not looked at. Throws InputError for every
/// other statement, for curved surfaces and files within files are of that kind, and for a file
/// that may be cut off in its last number.
FileMesh read_obj(const MappedFile& file, const RunContext& run);

} // namespace leastwall
