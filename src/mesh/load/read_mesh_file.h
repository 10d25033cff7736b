// The one place that picks a reader.
#pragma once

#include "base/file/mapped_file.h"
#include "mesh/file_mesh.h"
#include "mesh/load/load_mesh.h"

namespace leastwall {

/// Chooses by content first (PLY and glTF magic, zip, the exact size of a binary STL, ASCII STL
/// text), then by extension, and reads. Throws InputError when no reader fits.
FileMesh read_mesh_file(const MappedFile& file, const LoadOptions& options, const RunContext& run);

} // namespace leastwall
