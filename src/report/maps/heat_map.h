// The wall as a picture for the shop: plan view from the pocket side, x right, y up, true scale.
#pragma once

#include "report/check_report.h"
#include "report/draw/canvas/file_canvas.h"
#include "report/maps/heat_map_layout.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <string>

namespace leastwall {

struct HeatMapOptions {
  int width_px = 1600;       ///< 400..8000; the height follows from the piece
  bool inch = false;         ///< inches beside the millimetres
  std::string title;         ///< empty: the report's title
  std::size_t numbered = 12; ///< so many thin places get a number, the others a dot
  PictureFile file = PictureFile::png;
};

/// One value a sample of the map, mm.
struct HeatMapValues {
  std::span<const double> expected_mm; ///< gives the colours, the limit contour, close hatching
  std::span<const double> worst_mm;    ///< gives the wide hatching; empty: not known, not drawn
};

/// The file's bytes; the same input gives the same bytes. `skin` is the map of the skin, `report`
/// gives the verdict, the limit and the thin places (numbered as there). The colours mean the same
/// wall in every picture (see colour_map.h). Throws RunError when nothing was measured or the
/// counts do not match, InputError for a width out of range.
std::string draw_heat_map(const WallMap& skin, const HeatMapValues& values,
                          const CheckReport& report, const HeatMapOptions& options);

/// The layout that `draw_heat_map` uses for the same input.
HeatMapLayout heat_map_layout_of(const WallMap& skin, const CheckReport& report,
                                 const HeatMapOptions& options);

} // namespace leastwall
