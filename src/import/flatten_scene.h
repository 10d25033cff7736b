// A scene of nodes and meshes as one list of faces.
#pragma once

#include "space/vec3.h"

#include <assimp/scene.h>
#include <cstdint>
#include <vector>

namespace leastwall::import {

struct FlatScene {
  std::vector<Vec3> vertices; ///< exactly welded
  std::vector<std::uint32_t> corners, sizes;
  std::uint64_t placed = 0, not_placed = 0;
};

/// Walks the nodes, applies their matrices in double precision to every mesh they hold, and turns
/// the faces of mirrored ones. Throws std::runtime_error for indices out of range and for more than
/// 2^32 corners.
FlatScene flatten_scene(const aiScene& scene);

} // namespace leastwall::import
