// How far parts lie from one another, seen from above.
#pragma once

#include "mesh/mesh.h"
#include "parts/on_board.h"
#include "spatial/closest_surface.h"

namespace leastwall {

/// A part seen from above: its skin as it lies on the board, pressed flat to z 0, without the
/// facets that then have no area.
TriMesh seen_from_above(const TriMesh& skin, const OnBoard& on_board);

/// Distance of two flat meshes, mm: 0 where they overlap; `enough` where it is no less, or where
/// `b` is empty.
double flat_gap(const ClosestSurface& a, const TriMesh& b, double enough);

} // namespace leastwall
