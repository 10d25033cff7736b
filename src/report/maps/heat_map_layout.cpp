#include "report/maps/heat_map_layout.h"

#include "base/errors.h"
#include "base/sum_of_blocks.h"
#include "base/units.h"
#include "space/box.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace leastwall {
Box cell_box(const WallMap& map) {
  return sum_of_blocks(
      map.cells.size(), 1 << 14, {}, Box(),
      [&map](std::size_t begin, std::size_t end) {
        Box box;
        for (std::size_t k = begin; k < end; ++k)
          for (const std::uint32_t i : map.cells[k])
            box.add(map.samples[i].at);
        return box;
      },
      [](Box& sum, const Box& box) { sum.add(box); });
}

HeatMapLayout map_layout(const Footprint& shown, const MapRoom& room) {
  if (room.width_px < 400 || room.width_px > 8000)
    throw InputError(std::string(room.name) + ": a width of " + std::to_string(room.width_px) +
                     " px was asked for; give 400 to 8000");
  HeatMapLayout out;
  out.width = room.width_px;
  out.inch = room.inch;
  const double u = out.unit = room.width_px / 1600.0;
  out.band_height = std::round(room.band * u);
  out.title_y = out.band_height + room.title * u;
  out.note_y = out.band_height + room.note * u;
  out.frame_left = static_cast<int>(std::lround(124 * u));
  out.frame_top = static_cast<int>(std::lround(out.band_height + room.frame * u));
  out.frame_width = out.width - out.frame_left - static_cast<int>(std::lround(40 * u));

  const double pad = room.pad * u, size_x = shown.high.x - shown.low.x;
  const double size_y = shown.high.y - shown.low.y;
  out.gutter = room.gutter * u;
  out.mm_per_px = std::max(
      {size_x / (out.frame_width - 2 * (out.gutter + pad)), size_y / (room.most_high * u), 1e-6});
  out.frame_height =
      static_cast<int>(std::ceil(std::max(size_y / out.mm_per_px + 2 * pad, room.least_high * u)));
  out.left_mm = (shown.low.x + shown.high.x) / 2 - out.frame_width / 2.0 * out.mm_per_px;
  out.top_mm = (shown.low.y + shown.high.y) / 2 + out.frame_height / 2.0 * out.mm_per_px;
  out.tick_step_mm = round_length(260 * u * out.mm_per_px, out.inch);

  const double below = out.frame_top + out.frame_height;
  out.bar_mm = round_length(400 * u * out.mm_per_px, out.inch);
  out.bar = {static_cast<double>(out.frame_left), below + 122 * u};
  out.scale_left = out.frame_left;
  out.scale_top = below + 230 * u;
  out.scale_width = out.frame_width - 60 * u;
  out.scale_height = 48 * u;
  out.legend_top = room.colour_scale ? out.scale_top + out.scale_height + (room.inch ? 118 : 78) * u
                                     : out.bar.y + 40 * u;
  out.legend_pitch = room.legend_pitch * u;
  out.height =
      static_cast<int>(std::ceil(out.legend_top + out.legend_pitch * room.legend_rows + 16 * u));
  return out;
}

HeatMapLayout heat_map_layout(const WallMap& map, const HeatMapLayoutInput& input) {
  Box box = cell_box(map);
  if (box.empty() || !is_finite(box.low) || !is_finite(box.high))
    throw RunError("heat map: no wall was measured, so there is nothing to draw; check that the "
                   "pocket and the skin lie over each other");
  if (!input.also.empty())
    box.add(input.also);
  MapRoom room;
  room.name = "heat map";
  room.width_px = input.width_px;
  room.inch = input.inch;
  room.band = 214;
  room.title = 54;
  room.note = 96;
  room.frame = 122;
  room.pad = 44;
  room.gutter = input.callouts > 0 ? 196 : 0; // callouts stand in columns left and right
  room.most_high = 1120;
  room.least_high = std::max(300.0, 58.0 * static_cast<double>((input.callouts + 1) / 2));
  room.colour_scale = input.colour_scale;
  room.legend_rows = input.legend_rows;
  return map_layout({{box.low.x, box.low.y}, {box.high.x, box.high.y}}, room);
}

} // namespace leastwall
