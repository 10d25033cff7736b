#include "parts/outline_gap.h"

#include <algorithm>

namespace leastwall {

TriMesh seen_from_above(const TriMesh& skin, const OnBoard& on_board) {
  TriMesh flat;
  for (const Vec3& v : skin.vertices) {
    const Vec3 p = on_board.place(v);
    flat.vertices.push_back({p.x, p.y, 0});
  }
  for (const Tri& t : skin.triangles) {
    const Vec3 a = flat.vertices[t[0]];
    if (cross(flat.vertices[t[1]] - a, flat.vertices[t[2]] - a).z != 0)
      flat.triangles.push_back(t);
  }
  return flat;
}

double flat_gap(const ClosestSurface& a, const TriMesh& b, double enough) {
  double least = enough;
  for (const Tri& t : b.triangles) {
    const auto pair =
        a.nearest_to_triangle({b.vertices[t[0]], b.vertices[t[1]], b.vertices[t[2]]}, least);
    if (pair)
      least = std::min(least, pair->distance);
    if (least <= 0)
      break;
  }
  return least;
}

} // namespace leastwall
