// How many faces a COLLADA file places: what comes out of its import is held against it. Source:
// Khronos Group, "COLLADA 1.4.1 Specification", elements triangles, polylist, polygons, tristrips,
// trifans, lines, linestrips, node, instance_geometry, instance_node, unit.
#pragma once

#include "base/file/mapped_file.h"

#include <cstdint>

namespace leastwall {

struct FaceCount {
  std::uint64_t faces = 0, corners = 0; ///< corners of all faces together
  bool operator==(const FaceCount&) const = default;
};

/// Faces of all that the scene places, each time it does. Throws InputError when a list of faces
/// does not hold what its element announces, when positions are not X, Y and Z, when the unit is no
/// number above 0, when the scene places what is not there, and for what the import leaves out or
/// does not pose: holes in polygons, skeletons and morphs, skewed nodes, parts in other files.
FaceCount collada_faces(const MappedFile& file);

} // namespace leastwall
