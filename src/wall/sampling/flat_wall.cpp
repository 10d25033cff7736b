#include "wall/sampling/flat_wall.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

constexpr double kCorner_mm = 0.0002, kPlane_mm = 0.0005;
static_assert(kCorner_mm + kPlane_mm <= kFlatWall_mm);

struct Plane {
  Vec3 on, normal; ///< of unit length, towards the cell
};

std::optional<Plane> plane_of(const TriangleCorners& facet, Vec3 towards) {
  const Vec3 normal = unit(cross(facet[1] - facet[0], facet[2] - facet[0]));
  // Of a facet without area, or with so little that rounding turned its normal.
  const double off = std::max(std::abs(dot(normal, facet[1] - facet[0])),
                              std::abs(dot(normal, facet[2] - facet[0])));
  if (!(std::abs(length_squared(normal) - 1) < 1e-9) || off > 0.01 * kCorner_mm)
    return std::nullopt;
  return Plane{facet[0], dot(normal, towards - facet[0]) < 0 ? -normal : normal};
}

} // namespace

bool flat_wall(const MeasuredCell& cell, const ClosestSurface& there, bool only_thinner) {
  const auto& c = cell.corner;
  if ((c[0].wall_mm > 0) != (c[1].wall_mm > 0) || (c[0].wall_mm > 0) != (c[2].wall_mm > 0))
    return false;
  const TriangleCorners at{c[0].at, c[1].at, c[2].at};
  double most = 0;
  for (const WallSample& s : c)
    most = std::max(most, std::abs(s.wall_mm));
  for (std::size_t k = 0; k < 3; ++k) {
    const TriangleCorners facet = there.corners(cell.nearest[k]);
    const std::optional<Plane> plane = plane_of(facet, at[k]);
    if (!plane || !std::ranges::all_of(c, [&](const WallSample& s) {
          const double off = dot(plane->normal, s.at - plane->on) - std::abs(s.wall_mm);
          return std::abs(off) <= kCorner_mm && std::abs(s.wall_mm) > kFlatWall_mm;
        }))
      continue;
    const bool one_facet = std::ranges::all_of(c, [&](const WallSample& s) {
      return distance(s.at, closest_point(s.at, facet)) <= std::abs(s.wall_mm) + kCorner_mm;
    });
    const double behind =
        only_thinner || one_facet ? -std::numeric_limits<double>::infinity() : -kPlane_mm;
    return there.all_between(at, most + kPlane_mm, plane->on, plane->normal, behind, kPlane_mm);
  }
  return false;
}

} // namespace leastwall
