// Where a cell needs no more samples: over flat facets its wall is what its corners say.
#pragma once

#include "spatial/closest_surface.h"
#include "wall/sampling/wall_map.h"

#include <array>
#include <cstdint>

namespace leastwall {

/// How far a flat wall may be off what its corners say, mm.
constexpr double kFlatWall_mm = 0.001;

/// A cell of a map: its corners as measured, and the facet that was nearest to each.
struct MeasuredCell {
  std::array<WallSample, 3> corner;
  std::array<std::uint32_t, 3> nearest;
};

/// Is the wall anywhere in the cell what lies between the walls of its corners on a straight line,
/// but for kFlatWall_mm? `only_thinner`: of a cell in wood it may also be thicker in between. May
/// say no where it is; never yes where it is not.
///
/// Shown with one plane, that of a facet nearest to a corner. All corners are as far from it as
/// their walls are thick. When no facet that is as near as the thickest corner stands in front of
/// the plane, the distance of any point of the cell from the surface is at least its distance from
/// the plane, which is linear. It is at most that when the corners are as near to that one facet
/// (the distance from a convex set is convex), or when no facet so near that leaves the plane lies
/// over the points nearest to the corners or between them, seen along the plane's normal: what is
/// there is then all in the plane, for a dent would have sides or a bottom, and the point of it
/// that lies as the place in the cell does is no further away than the straight line says.
bool flat_wall(const MeasuredCell& cell, const ClosestSurface& there, bool only_thinner);

} // namespace leastwall
