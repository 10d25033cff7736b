#include "report/maps/wall_parts.h"

#include "base/parallel.h"
#include "report/draw/wall_pixels.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace leastwall {

WallGrid frame_of(const HeatMapLayout& at) {
  return {at.frame_width, at.frame_height, at.mm_per_px, at.left_mm, at.top_mm, {}};
}

WallParts wall_parts(const WallMap& map, std::span<const double> shown_mm,
                     std::span<const double> worst_mm, const HeatMapLayout& at, double limit_mm) {
  WallGrid shown = frame_of(at), worst = frame_of(at);
  std::vector<WallLayer> layers{{shown_mm, &shown}};
  if (!worst_mm.empty())
    layers.push_back({worst_mm, &worst});
  rasterise_wall(map, layers);

  WallParts parts;
  parts.pixels = wall_pixels(shown, worst, limit_mm, at.unit);
  const int rounds = std::max(1, static_cast<int>(std::lround(3 * at.unit)));
  const auto lines = [&](WallGrid& grid) {
    // No line where all is on one side: smoothing takes nothing beyond the least and the most.
    bool under = false, over = false;
    for (const double v : grid.value) {
      under = under || v < limit_mm;
      over = over || v >= limit_mm;
    }
    return under && over ? contour_lines(smoothed(std::move(grid), rounds), limit_mm)
                         : std::vector<ContourLine>{};
  };
  both_at_once([&] { parts.worst_lines = lines(worst); },
               [&] { parts.shown_lines = lines(shown); });
  return parts;
}

} // namespace leastwall
