// Where a piece lies on the bed that was read.
#pragma once

#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

namespace leastwall {

/// How a piece lies on the bed, frame of the readings, mm.
struct PieceOnBed {
  Footprint side_a, side_b;
  Point2 touch_a, touch_b;
  FlipLine line = FlipLine::along_y;
  double line_at_mm = 0; ///< x of a line along y, y of a line along x
};

/// True when the set-up has readings enough to show a surface: three.
bool has_bed_map(const Setup& setup);

/// Where no board was stated the rectangle around all samples stands for it.
PieceOnBed piece_on_bed(const Setup& setup, const WallMap& skin);

} // namespace leastwall
