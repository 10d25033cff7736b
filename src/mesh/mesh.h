// A triangle mesh in model space: millimetres, z up out of the pocket face.
#pragma once

#include "space/box.h"
#include "space/vec3.h"

#include <array>
#include <cstdint>
#include <vector>

namespace leastwall {

/// Corner indices into TriMesh::vertices, counter-clockwise seen from outside.
using Tri = std::array<std::uint32_t, 3>;

struct TriMesh {
  std::vector<Vec3> vertices;
  std::vector<Tri> triangles;

  Box box() const {
    Box b;
    for (const Vec3& v : vertices)
      b.add(v);
    return b;
  }
};

} // namespace leastwall
