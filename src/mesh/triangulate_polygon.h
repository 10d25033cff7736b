// One polygon in space into triangles.
#pragma once

#include "mesh/mesh.h"

#include <span>
#include <vector>

namespace leastwall {

/// Most corners a polygon may have: cutting takes the square of it in the worst case.
inline constexpr std::size_t kMaxPolygonCorners = 20000;

struct PolygonCut {
  bool ok = false;   ///< false: the outline crosses itself; quadrilaterals are cut all the same,
                     ///< of others no complete cut is appended
  double bent = 0;   ///< farthest corner from the mean plane, in the unit of the points
  double across = 0; ///< size of the polygon's box along its diagonal
};

/// Appends n - 2 triangles (numbers of corners, 0..n-1, in the polygon's own direction). Concave
/// outlines are cut by clipping ears in the mean plane (Newell normal; Meisters, "Polygons have
/// ears", 1975); a convex quadrilateral along its shorter diagonal. 3 <= n <= kMaxPolygonCorners.
PolygonCut triangulate_polygon(std::span<const Vec3> corners, std::vector<Tri>& triangles);

} // namespace leastwall
