// Contour lines on a wall grid.
#pragma once

#include "report/draw/rasterise_wall.h"
#include "space/footprint.h"

#include <vector>

namespace leastwall {

/// A place in pixel units: (0, 0) is the outer corner of pixel (0, 0), y down.
struct GridPoint {
  double x = 0, y = 0;
};

using ContourLine = std::vector<GridPoint>; ///< a closed line repeats its first point at the end

/// Smoother: `rounds` passes of the binomial filter 1-2-1 along rows and columns, each over
/// the neighbours that have a value; empty pixels stay empty.
WallGrid smoothed(WallGrid grid, int rounds);

/// Lines along which the value is `level`, by marching squares between pixel centres, straight
/// interpolation along the sides, the saddle decided by the mean of the four. A square with an
/// empty corner has no line. Longest line first; the order is the same on every run.
std::vector<ContourLine> contour_lines(const WallGrid& grid, double level);

/// The same of the grid smoothed twice, in model x, y; lines of fewer points than `min_points` are
/// left out.
std::vector<std::vector<Point2>> contours_on_board(const WallGrid& grid, double level,
                                                   std::size_t min_points);

} // namespace leastwall
