// Where everything on a map stands, worked out before anything is drawn. Pixels from the
// top left corner, y down.
#pragma once

#include "report/draw/picture.h"
#include "report/draw/round_length.h"
#include "space/box.h"
#include "space/footprint.h"
#include "wall/sampling/wall_map.h"

#include <cstddef>

namespace leastwall {

struct HeatMapLayout {
  int width = 0, height = 0; ///< of the whole picture
  double unit = 1;           ///< 1 at 1600 px wide; every size below scales with it
  bool inch = false;         ///< axes, scale bar and numbers at places are inches
  double band_height = 0;    ///< verdict band at the top
  double title_y = 0;        ///< baseline
  double note_y = 0;         ///< baseline of the line under the title
  int frame_left = 0, frame_top = 0, frame_width = 0, frame_height = 0;
  double gutter = 0;              ///< columns for callouts inside the frame, left and right
  double mm_per_px = 1;           ///< the same across and up
  double left_mm = 0, top_mm = 0; ///< model x, y of the frame's top left corner
  double tick_step_mm = 0;        ///< distance of the numbers along both axes
  double bar_mm = 0;              ///< length of the scale bar
  PicturePoint bar;               ///< left end of its lower edge
  double scale_left = 0, scale_top = 0, scale_width = 0, scale_height = 0; ///< colour scale
  double legend_top = 0, legend_pitch = 0;

  double px_x(double x_mm) const { return frame_left + (x_mm - left_mm) / mm_per_px; }
  double px_y(double y_mm) const { return frame_top + (top_mm - y_mm) / mm_per_px; }
};

struct HeatMapLayoutInput {
  int width_px = 1600;      ///< 400..8000
  std::size_t callouts = 0; ///< how many labels must find room
  int legend_rows = 3;
  bool inch = false;
  Box also;                 ///< takes this in besides the cells; may be empty
  bool colour_scale = true; ///< false: the legend takes its place
};

/// What a map of any kind keeps room for; lengths in units of HeatMapLayout::unit.
struct MapRoom {
  const char* name = "map"; ///< for messages
  int width_px = 1600;      ///< 400..8000
  bool inch = false;
  double band = 0;            ///< above all
  double title = 0, note = 0; ///< baselines below the band
  double frame = 0;           ///< its top below the band
  double pad = 0, gutter = 0; ///< inside the frame, on each side; the gutter left and right
  double most_high = 0;       ///< of what is shown
  double least_high = 300;    ///< of the frame
  bool colour_scale = true;   ///< false: the legend takes its place
  double legend_pitch = 52;
  int legend_rows = 3;
};

/// Frames `shown`, as large as it can be, true to scale. Throws InputError when the width is out of
/// range.
HeatMapLayout map_layout(const Footprint& shown, const MapRoom& room);

/// Around the cells of a map; empty when it has none.
Box cell_box(const WallMap& map);

/// Frames the cells of `map`. Throws RunError when it has none, InputError when the width is out
/// of range.
HeatMapLayout heat_map_layout(const WallMap& map, const HeatMapLayoutInput& input);

} // namespace leastwall
