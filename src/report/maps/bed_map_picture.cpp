#include "report/maps/bed_map_picture.h"

#include "base/errors.h"
#include "report/draw/contour_lines.h"
#include "report/maps/bed_map_parts.h"
#include "report/maps/heat_map_parts.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

Footprint extent_of(const BedMap& bed, const std::optional<PieceOnBed>& piece) {
  const Vec3& first = bed.points().front();
  Footprint f{{first.x, first.y}, {first.x, first.y}};
  for (const Vec3& p : bed.points())
    f.add({p.x, p.y});
  if (piece)
    for (const Point2 p : {piece->side_a.low, piece->side_a.high, piece->side_b.low,
                           piece->side_b.high, piece->touch_a, piece->touch_b})
      f.add(p);
  return f;
}

HeatMapLayout layout_of(const Footprint& f, bool with_piece, const BedPictureOptions& o) {
  if (o.width_px < 400 || o.width_px > 8000)
    throw InputError("bed map: a width of " + std::to_string(o.width_px) +
                     " px was asked for; give 400 to 8000");
  HeatMapLayout at;
  at.width = o.width_px;
  at.inch = o.inch;
  const double u = at.unit = o.width_px / 1600.0;
  at.title_y = 62 * u;
  at.note_y = 112 * u;
  at.frame_left = static_cast<int>(std::lround(124 * u));
  at.frame_top = static_cast<int>(std::lround(142 * u));
  at.frame_width = at.width - at.frame_left - static_cast<int>(std::lround(40 * u));
  const double size_x = f.high.x - f.low.x, size_y = f.high.y - f.low.y, pad = 70 * u;
  at.mm_per_px =
      std::max({size_x / (at.frame_width - 2 * pad), size_y / (1100 * u - 2 * pad), 1e-6});
  at.frame_height = static_cast<int>(std::ceil(std::max(size_y / at.mm_per_px + 2 * pad, 300 * u)));
  at.left_mm = (f.low.x + f.high.x) / 2 - at.frame_width / 2.0 * at.mm_per_px;
  at.top_mm = (f.low.y + f.high.y) / 2 + at.frame_height / 2.0 * at.mm_per_px;
  at.tick_step_mm = round_length(260 * u * at.mm_per_px, at.inch);
  const double below = at.frame_top + at.frame_height;
  at.bar_mm = round_length(400 * u * at.mm_per_px, at.inch);
  at.bar = {static_cast<double>(at.frame_left), below + 122 * u};
  at.scale_left = at.frame_left;
  at.scale_top = below + 230 * u;
  at.scale_width = at.frame_width - 60 * u;
  at.scale_height = 48 * u;
  at.legend_top = at.scale_top + at.scale_height + (o.inch ? 118 : 78) * u;
  at.legend_pitch = 54 * u;
  at.height =
      static_cast<int>(std::ceil(at.legend_top + at.legend_pitch * (with_piece ? 4 : 2) + 16 * u));
  return at;
}

WallGrid heights_of(const BedMap& bed, const HeatMapLayout& at) {
  WallGrid grid{at.frame_width, at.frame_height, at.mm_per_px, at.left_mm, at.top_mm, {}};
  grid.value.reserve(static_cast<std::size_t>(grid.width) * static_cast<std::size_t>(grid.height));
  for (int row = 0; row < grid.height; ++row)
    for (int column = 0; column < grid.width; ++column)
      grid.value.push_back(bed.height_mm(at.left_mm + (column + 0.5) * at.mm_per_px,
                                         at.top_mm - (row + 0.5) * at.mm_per_px)
                               .value_or(std::nan("")));
  return grid;
}

PixelImage pixels_of(const WallGrid& grid, const HeightScale& scale) {
  PixelImage image{grid.width, grid.height, {}};
  image.pixels.reserve(grid.value.size());
  for (const double z : grid.value)
    image.pixels.push_back(std::isnan(z) ? kNotRead : scale.colour(z));
  return image;
}

} // namespace

std::string bed_map_title(const Flatness& flatness, const std::string& piece) {
  return fmt::format("The bed is flat within {:.3f} mm{}", flatness.range_mm,
                     piece.empty() ? piece : ", piece: " + piece);
}

std::string bed_map_note(const Flatness& flatness, const std::string& source) {
  return fmt::format(
      "{:.3f} mm between the two closest parallel planes (minimum zone); {} readings "
      "from {}",
      flatness.minimum_zone.normal_mm, flatness.readings, source);
}

std::string draw_bed_map(const BedMap& bed, const Flatness& flatness,
                         const std::optional<PieceOnBed>& piece, const BedPictureOptions& options) {
  const HeatMapLayout at = layout_of(extent_of(bed, piece), piece.has_value(), options);
  const HeightScale scale(bed.lowest().z, bed.highest().z);
  const WallGrid heights = heights_of(bed, at);

  Picture picture(at.width, at.height);
  picture.image(pixels_of(heights, scale), at.frame_left, at.frame_top);
  picture.clip(at.frame_left, at.frame_top, at.frame_width, at.frame_height);
  BedOverlay overlay(picture, at);
  overlay.keep_free(at.px_x(0) + 40 * at.unit, at.px_y(0) + 16 * at.unit, 70 * at.unit,
                    46 * at.unit); // the origin's mark
  overlay.readings(bed);
  for (const double level : scale.levels())
    overlay.contours(contour_lines(heights, level));
  if (piece)
    overlay.piece(*piece);
  overlay.contacts(flatness.minimum_zone);
  overlay.extremes(flatness);
  for (const double level : scale.levels())
    overlay.contour_numbers(contour_lines(heights, level), scale.text(level));
  picture.unclip();
  draw_axes(picture, at);
  const LengthText words{options.inch};
  draw_bed_title(picture, at, words.sentence(options.title), words.sentence(options.note));
  draw_scale_bar(picture, at);
  draw_height_scale(picture, at, scale, options.inch);
  draw_bed_legend(picture, at, piece.has_value());
  return picture.file();
}

} // namespace leastwall
