#include "wall/sampling/flat_wall.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

constexpr double kCorner_mm = 0.0005, kPlane_mm = 0.0005;
constexpr double kHair_mm = 1e-6; // facets that meet in an edge do not lie over one another
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

/// Do two triangles lie over one another, seen along `normal`, by more than a hair? Separating
/// axes: the edges of either.
bool over_one_another(const TriangleCorners& a, const TriangleCorners& b, Vec3 normal) {
  const auto apart = [&](const TriangleCorners& of) {
    for (std::size_t i = 0; i < 3; ++i) {
      const Vec3 across = unit(cross(of[(i + 1) % 3] - of[i], normal));
      const auto range = [&](const TriangleCorners& t) {
        return std::minmax({dot(across, t[0]), dot(across, t[1]), dot(across, t[2])});
      };
      const auto [a_low, a_high] = range(a);
      const auto [b_low, b_high] = range(b);
      if (length_squared(across) > 0.5 &&
          (a_high <= b_low + kHair_mm || b_high <= a_low + kHair_mm))
        return true;
    }
    return false;
  };
  return !apart(a) && !apart(b);
}

/// The header's claim with this facet's plane.
bool flat_over(const MeasuredCell& cell, const TriangleCorners& facet, const Plane& plane,
               const ClosestSurface& there, bool only_thinner) {
  const TriangleCorners at{cell.corner[0].at, cell.corner[1].at, cell.corner[2].at};
  TriangleCorners feet; // the points of the surface nearest to the corners
  double most = 0;
  bool one_facet = true;
  for (std::size_t k = 0; k < 3; ++k) {
    const WallSample& s = cell.corner[k];
    feet[k] = closest_point(s.at, there.corners(cell.nearest[k]));
    const double wall = std::abs(s.wall_mm);
    most = std::max(most, wall);
    if (std::abs(dot(plane.normal, s.at - plane.on) - wall) > kCorner_mm || wall <= kFlatWall_mm)
      return false;
    one_facet = one_facet && distance(s.at, closest_point(s.at, facet)) <= wall + kCorner_mm;
  }
  const bool behind_matters = !only_thinner && !one_facet;
  const Slab slab{plane.on, plane.normal,
                  behind_matters ? -kPlane_mm : -std::numeric_limits<double>::infinity(),
                  kPlane_mm};
  return there.all_in_slab(at, most + kPlane_mm, slab, [&](const TriangleCorners& other) {
    return behind_matters &&
           std::ranges::all_of(
               other, [&](const Vec3& corner) { return slab.front(corner) <= kPlane_mm; }) &&
           !over_one_another(feet, other, plane.normal);
  });
}

} // namespace

bool flat_wall(const MeasuredCell& cell, const ClosestSurface& there, bool only_thinner) {
  const auto& c = cell.corner;
  if ((c[0].wall_mm > 0) != (c[1].wall_mm > 0) || (c[0].wall_mm > 0) != (c[2].wall_mm > 0))
    return false;
  only_thinner = only_thinner && c[0].wall_mm > 0; // in the air deeper is thinner
  for (std::size_t k = 0; k < 3; ++k) {
    if (std::find(cell.nearest.begin(), cell.nearest.begin() + k, cell.nearest[k]) !=
        cell.nearest.begin() + k)
      continue;
    const TriangleCorners facet = there.corners(cell.nearest[k]);
    const std::optional<Plane> plane = plane_of(facet, c[k].at);
    if (plane && flat_over(cell, facet, *plane, there, only_thinner))
      return true;
  }
  return false;
}

} // namespace leastwall
