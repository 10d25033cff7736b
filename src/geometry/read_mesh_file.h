// The one place that picks a reader.
#pragma once

#include "geometry/file_mesh.h"
#include "geometry/load_mesh.h"
#include "geometry/mapped_file.h"

namespace leastwall {

/// Chooses by content first (PLY and glTF magic, zip, the exact size of a binary STL, ASCII STL
/// text), then by extension, and reads. Throws InputError when no reader fits.
FileMesh read_mesh_file(const MappedFile& file, const LoadOptions& options, const RunContext& run);

} // namespace leastwall
