// What a map draws of the wall itself: pixels, and lines along the limit.
#pragma once

#include "report/draw/contour_lines.h"
#include "report/draw/picture.h"
#include "report/draw/rasterise_wall.h"
#include "report/maps/heat_map_layout.h"

#include <span>
#include <vector>

namespace leastwall {

/// An empty grid of the layout's frame.
WallGrid frame_of(const HeatMapLayout& at);

struct WallParts {
  PixelImage pixels; ///< of the layout's frame
  /// Along the limit, in pixels of the frame, smoothed.
  std::vector<ContourLine> shown_lines, worst_lines;
};

/// `shown_mm` and `worst_mm` hold one wall a sample, mm; `worst_mm` may be empty (not drawn).
WallParts wall_parts(const WallMap& map, std::span<const double> shown_mm,
                     std::span<const double> worst_mm, const HeatMapLayout& at, double limit_mm);

} // namespace leastwall
