// The voxels that a triangle may touch.
#pragma once

#include "space/box.h"
#include "spatial/triangle_distance.h"

#include <cmath>
#include <cstddef>

namespace leastwall {

/// Calls mark(x, y, z) for every voxel that the triangle may touch, some more than once: halves it
/// until a piece spans few voxels, then marks the piece's whole box. Coordinates in voxels, whose
/// middles are the whole numbers.
template <class Mark> void touched_voxels(const TriangleCorners& t, const Mark& mark) {
  std::size_t longest = 0;
  double l2 = -1;
  for (std::size_t i = 0; i < 3; ++i) {
    const double e2 = length_squared(t[(i + 1) % 3] - t[i]);
    if (e2 > l2) {
      l2 = e2;
      longest = i;
    }
  }
  if (l2 <= 4) {
    Box b;
    for (const Vec3& v : t)
      b.add(v);
    const auto low = [](double v) { return static_cast<int>(std::floor(v + 0.5 - 1e-6)); };
    const auto high = [](double v) { return static_cast<int>(std::floor(v + 0.5 + 1e-6)); };
    for (int x = low(b.low.x); x <= high(b.high.x); ++x)
      for (int y = low(b.low.y); y <= high(b.high.y); ++y)
        for (int z = low(b.low.z); z <= high(b.high.z); ++z)
          mark(x, y, z);
    return;
  }
  const Vec3 a = t[longest], b = t[(longest + 1) % 3], c = t[(longest + 2) % 3];
  const Vec3 middle = (a + b) * 0.5;
  touched_voxels<Mark>({a, middle, c}, mark);
  touched_voxels<Mark>({middle, b, c}, mark);
}

} // namespace leastwall
