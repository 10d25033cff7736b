// The lines of a piece that a sheet shows: its outlines, and the edges of what may end too thin.
#pragma once

#include "setup/place.h"
#include "space/footprint.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <vector>

namespace leastwall {

struct SheetLines {
  std::vector<std::vector<Point2>> outlines, thin; ///< model x, y
};

/// Of a skin with its worst-case walls, mm, one a sample; without them (or with none of `skin`)
/// there are no thin edges. One look at all cells.
SheetLines sheet_lines(const WallMap& skin, std::span<const double> worst_mm, double limit_mm);

/// A line as the side sees it, in program coordinates.
std::vector<Point2> line_on(const Flip& flip, Side side, const std::vector<Point2>& model);

} // namespace leastwall
