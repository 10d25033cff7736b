#include "report/sheet/sheet_lines.h"

#include "report/draw/contour_lines.h"
#include "report/draw/rasterise_wall.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

constexpr double kFinest_mm = 0.2;   // of a pixel
constexpr double kMostPixels = 3000; // along the longer side
constexpr int kRim = 3;              // pixels
constexpr std::size_t kFewestPoints = 24, kFewestOfThin = 8;

/// The frame of all cells; no width where there are none.
WallGrid frame_of(const WallMap& skin) {
  Footprint part{{1e300, 1e300}, {-1e300, -1e300}};
  for (const Tri& cell : skin.cells)
    for (const std::uint32_t v : cell)
      part.add({skin.samples[v].at.x, skin.samples[v].at.y});
  const double w = part.high.x - part.low.x, h = part.high.y - part.low.y;
  WallGrid grid;
  if (!(std::max(w, h) > 0))
    return grid;
  grid.mm_per_px = std::max({kFinest_mm, w / kMostPixels, h / kMostPixels});
  grid.width = static_cast<int>(std::ceil(w / grid.mm_per_px)) + 2 * kRim;
  grid.height = static_cast<int>(std::ceil(h / grid.mm_per_px)) + 2 * kRim;
  grid.left_mm = part.low.x - kRim * grid.mm_per_px;
  grid.top_mm = part.high.y + kRim * grid.mm_per_px;
  return grid;
}

} // namespace

SheetLines sheet_lines(const WallMap& skin, std::span<const double> worst_mm, double limit_mm) {
  WallGrid grid = frame_of(skin);
  if (grid.width == 0)
    return {};
  SheetLines lines;
  const bool known = worst_mm.size() == skin.samples.size();
  const std::vector<double> there(known ? 0 : skin.samples.size(), 1.0);
  rasterise_wall(skin, known ? worst_mm : std::span<const double>(there), grid);
  if (known)
    lines.thin = contours_on_board(grid, limit_mm, kFewestOfThin);
  for (double& v : grid.value)
    v = std::isnan(v) ? 0 : 1;
  lines.outlines = contours_on_board(grid, 0.5, kFewestPoints);
  return lines;
}

std::vector<Point2> line_on(const Flip& flip, Side side, const std::vector<Point2>& model) {
  std::vector<Point2> out;
  for (const Point2& p : model)
    out.push_back(side_place(flip, side, p));
  return out;
}

} // namespace leastwall
