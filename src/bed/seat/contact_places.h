// Where a stiff board can touch the bed.
#pragma once

#include "bed/bed_map.h"
#include "space/footprint.h"

#include <vector>

namespace leastwall {

/// The places of the bed (x, y, height, bed frame) that a flat board over `on_bed` can rest on, so
/// that a plane that no place stands through is a plane that no point of the read surface under
/// the board stands through. Exact: the surface is linear on triangles and bilinear in the cells
/// of a grid; against a plane its highest point on a triangle, or a cell, cut off at the board's
/// rim is a corner of that piece. Corners are: the readings under the board, the corners of the
/// board, and every crossing of the rim with a line of the grid or an edge of a triangle (those
/// that bridge gaps in a grid, too). Nothing where nothing was read.
std::vector<Vec3> contact_places(const BedMap& bed, const Footprint& on_bed);

} // namespace leastwall
