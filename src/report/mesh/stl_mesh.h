// A mesh as binary STL.
#pragma once

#include "mesh/mesh.h"

#include <string>

namespace leastwall {

/// 80 bytes of text, the count, 50 bytes a facet: normal and three corners as 32-bit floats, no
/// attributes (layout: mesh/formats/read_stl_binary.h). mm. The same input gives the same bytes.
/// Throws RunError with more facets than the count can hold.
std::string stl_bytes(const TriMesh& mesh);

} // namespace leastwall
