// Binary STL: 80 bytes of free text, a 32-bit count, 50 bytes a facet (normal and three corners as
// little-endian single-precision floats, two attribute bytes). Source: StereoLithography Interface
// Specification, 3D Systems, 1989, as reprinted in Burns, Automated Fabrication (1993), 6.5.
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/file_mesh.h"

#include <string_view>

namespace leastwall {

/// True when the size is exactly what the count asks for (in 64 bits).
bool has_binary_stl_size(std::string_view bytes);

/// Strict: a file shorter than its count says, or with whole facets beyond it, is refused; fewer
/// than 50 trailing bytes are a notice `trailing-bytes`. Stored normals are not used; when more
/// than one in twenty contradicts the facet's winding there is a notice `normals-disagree`.
FileMesh read_stl_binary(const MappedFile& file, const RunContext& run);

} // namespace leastwall
