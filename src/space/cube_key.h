// Neighbours by cubes: places in one cube have one number.
#pragma once

#include "space/vec3.h"

#include <cmath>
#include <cstdint>

namespace leastwall {

/// Number of the cube, `cube_mm` wide, that lies dx, dy, dz cubes on from the one that holds `p`.
/// Cubes that are a multiple of 2^21 apart have the same number.
inline std::uint64_t cube_key(Vec3 p, double cube_mm, int dx = 0, int dy = 0, int dz = 0) {
  const auto part = [cube_mm](double v, int more) {
    return static_cast<std::uint64_t>(static_cast<std::int64_t>(std::floor(v / cube_mm)) + more) &
           0x1fffff;
  };
  return part(p.x, dx) << 42 | part(p.y, dy) << 21 | part(p.z, dz);
}

} // namespace leastwall
