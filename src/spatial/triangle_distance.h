// Exact (double precision) distances between points, segments and triangles.
//
// Everything here works on coordinates as given, mm in mm out; results carry rounding errors of a
// few parts in 1e15 of the largest coordinate. Degenerate triangles act as the segments they are.
#pragma once

#include "space/vec3.h"

#include <array>

namespace leastwall {

using TriangleCorners = std::array<Vec3, 3>;

/// Nearest point of triangle `t` to `p`.
Vec3 closest_point(Vec3 p, const TriangleCorners& t);

/// Two nearest points, one on each shape, and their distance (0 when they touch or cross).
struct NearestPair {
  Vec3 on_first, on_second;
  double distance = 0;
};

NearestPair segment_pair(Vec3 a0, Vec3 a1, Vec3 b0, Vec3 b1);

/// Corner against face, edge against edge and edge through face: the true least distance, also
/// where two edges pass each other crosswise.
NearestPair triangle_pair(const TriangleCorners& a, const TriangleCorners& b);

} // namespace leastwall
