#include "report/maps/heat_map_layout.h"

#include "base/errors.h"
#include "base/sum_of_blocks.h"
#include "base/units.h"
#include "space/box.h"

#include <algorithm>
#include <cmath>

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

HeatMapLayout heat_map_layout(const WallMap& map, const HeatMapLayoutInput& input) {
  if (input.width_px < 400 || input.width_px > 8000)
    throw InputError("heat map: a width of " + std::to_string(input.width_px) +
                     " px was asked for; give 400 to 8000");
  Box box = cell_box(map);
  if (box.empty() || !is_finite(box.low) || !is_finite(box.high))
    throw RunError("heat map: no wall was measured, so there is nothing to draw; check that the "
                   "pocket and the skin lie over each other");
  if (!input.also.empty())
    box.add(input.also);

  HeatMapLayout out;
  out.width = input.width_px;
  out.inch = input.inch;
  const double u = out.unit = input.width_px / 1600.0;
  out.band_height = std::round(214 * u);
  out.title_y = out.band_height + 54 * u;
  out.note_y = out.band_height + 96 * u;
  out.frame_left = static_cast<int>(std::lround(124 * u));
  out.frame_top = static_cast<int>(std::lround(out.band_height + 122 * u));
  out.frame_width = out.width - out.frame_left - static_cast<int>(std::lround(40 * u));

  // The piece, as large as it can be between the callout columns, true to scale.
  const double pad = 44 * u;
  out.gutter = input.callouts > 0 ? 196 * u : 0;
  const double room_x = out.frame_width - 2 * (out.gutter + pad), room_y = 1120 * u;
  const Vec3 size = box.size();
  out.mm_per_px = std::max({size.x / room_x, size.y / room_y, 1e-9});
  const double callout_room = 58 * u * static_cast<double>((input.callouts + 1) / 2);
  const double map_height = std::max({size.y / out.mm_per_px + 2 * pad, callout_room, 300 * u});
  out.frame_height = static_cast<int>(std::ceil(map_height));
  out.left_mm = box.middle().x - out.frame_width / 2.0 * out.mm_per_px;
  out.top_mm = box.middle().y + out.frame_height / 2.0 * out.mm_per_px;
  out.tick_step_mm = round_length(260 * u * out.mm_per_px, out.inch);

  const double below = out.frame_top + out.frame_height;
  out.bar_mm = round_length(400 * u * out.mm_per_px, out.inch);
  out.bar = {static_cast<double>(out.frame_left), below + 122 * u};
  out.scale_left = out.frame_left;
  out.scale_top = below + 230 * u;
  out.scale_width = out.frame_width - 60 * u;
  out.scale_height = 48 * u;
  out.legend_top = input.colour_scale
                       ? out.scale_top + out.scale_height + (input.inch ? 118 : 78) * u
                       : out.bar.y + 40 * u;
  out.legend_pitch = 52 * u;
  out.height =
      static_cast<int>(std::ceil(out.legend_top + out.legend_pitch * input.legend_rows + 16 * u));
  return out;
}

} // namespace leastwall
