// ASCII STL: solid / facet normal / outer loop / three vertices / endloop / endfacet / endsolid.
// Source: as read_stl_binary.h. Several solids in one file are one mesh.
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/file_mesh.h"

#include <string_view>

namespace leastwall {

/// True when the bytes begin with the word `solid` and go on as ASCII STL does; a binary file whose
/// header happens to start with "solid" gives false.
bool looks_like_ascii_stl(std::string_view bytes);

/// Strict: every facet complete, every solid ended, numbers in plain notation; otherwise an
/// InputError with the line. Keywords in any letter case; names are ignored. Empty solids are
/// passed over.
FileMesh read_stl_ascii(const MappedFile& file, const RunContext& run);

} // namespace leastwall
