// Numbers of a glTF file that its importer trusts and should not: offsets, lengths, matrices.
// Source: Khronos Group, "glTF 2.0 Specification", 3.6 (buffers, views, accessors), 3.5 (nodes),
// 4.4 (binary container).
#pragma once

#include "geometry/mapped_file.h"

namespace leastwall {

/// Throws InputError unless the JSON is well formed, of version 2, every accessor lies within its
/// view, every view within its buffer, embedded buffers are as long as they say, and matrices and
/// vectors of nodes have their numbers.
void check_gltf(const MappedFile& file);

} // namespace leastwall
