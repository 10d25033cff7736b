// The wall on a pixel grid seen from the pocket side: x to the right, y up, looking down -z.
#pragma once

#include "space/box.h"
#include "wall/sampling/wall_map.h"

#include <cstddef>
#include <span>
#include <vector>

namespace leastwall {

/// Values on square pixels. Pixel (column, row) covers model x from left_mm + column * mm_per_px,
/// and y from top_mm - row * mm_per_px downwards, one pixel each way: row 0 is at the top.
struct WallGrid {
  int width = 0, height = 0; ///< pixels
  double mm_per_px = 1;
  double left_mm = 0, top_mm = 0; ///< model x of the left edge, model y of the top edge
  std::vector<double> value;      ///< wall in mm, row by row; NaN where there is none

  double at(int column, int row) const {
    return value[static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                 static_cast<std::size_t>(column)];
  }
};

/// An empty grid `width` px wide and at most `max_height` high, with `box` in its middle and at
/// least `rim_px` round it.
WallGrid grid_about(const Box& box, int width, int max_height, double rim_px);

/// Every pixel that a cell touches shows the least wall of the cells that touch it, so nothing
/// thin is lost between pixel centres. Inside a large cell the wall runs straight between the
/// corners; the pixel takes the least value over its square (never below the least corner). Cells
/// steeper than 80 degrees are widened by one pixel all round: a near-vertical wall stays a line
/// of about three pixels. Spots count in their own pixel and the eight around it.
/// `values_mm` holds one value a sample; cells with a NaN corner are left out.
/// Fills `grid.value` for the frame already set in `grid`; cells outside are cut off.
void rasterise_wall(const WallMap& map, std::span<const double> values_mm, WallGrid& grid);

/// Several walls of one map at once, on grids with one frame: the same as one after the other, but
/// which rows a cell reaches and how its edges run is found once.
struct WallLayer {
  std::span<const double> values_mm;
  WallGrid* grid;
};
void rasterise_wall(const WallMap& map, std::span<const WallLayer> layers);

} // namespace leastwall
