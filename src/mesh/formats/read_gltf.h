// glTF 2.0, text and binary. Source: Khronos Group, "glTF 2.0 Specification", 3.4 (metres, y
// up), 3.5 (scenes, nodes), 3.7 (meshes).
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/file_mesh.h"

#include <cstdint>

namespace leastwall {

/// All that the file's scene places, as one mesh, mirrored placings turned; in metres. Points and
/// lines are left out (notice `points-or-lines`), as are meshes that the scene does not place
/// (`not-placed`). Throws InputError for anything that is damaged, for quantized, sparse and
/// compressed positions, for what poses, repeats or hides meshes (skins, morph targets with a
/// weight, extensions), and when the meshes take more than `max_bytes`.
FileMesh read_gltf(const MappedFile& file, std::uint64_t max_bytes, const RunContext& run);

} // namespace leastwall
