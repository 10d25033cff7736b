// PLY, ASCII and binary of either byte order. Source: as ply_header.h.
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/file_mesh.h"

namespace leastwall {

/// Takes x, y, z of the element `vertex` and the list `vertex_indices` (or `vertex_index`) of the
/// element `face`; other elements and properties are stepped over. Strict: counts must fit the
/// file, ASCII items stand one to a line with exactly their numbers, nothing may be left over
/// (fewer bytes than one item: notice `trailing-bytes`).
FileMesh read_ply(const MappedFile& file, const RunContext& run);

} // namespace leastwall
