#include "report/maps/bed_map_picture.h"

#include "report/draw/contour_lines.h"
#include "report/maps/bed_map_parts.h"
#include "report/maps/compose_map.h"
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
  MapRoom room;
  room.name = "bed map";
  room.width_px = o.width_px;
  room.inch = o.inch;
  room.title = 62;
  room.note = 112;
  room.frame = 142;
  room.pad = 70;
  room.most_high = 960;
  room.legend_pitch = 54;
  room.legend_rows = with_piece ? 4 : 2;
  return map_layout(f, room);
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

  const LengthText words{options.inch};
  MapParts parts;
  parts.field = [&](Picture& picture, const HeatMapLayout&) {
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
  };
  parts.title = [&](Picture& picture, const HeatMapLayout&) {
    draw_bed_title(picture, at, words.sentence(options.title), words.sentence(options.note));
  };
  parts.scale_legend = [&](Picture& picture, const HeatMapLayout&) {
    draw_height_scale(picture, at, scale, options.inch);
    draw_bed_legend(picture, at, piece.has_value());
  };
  return compose(at, parts);
}

} // namespace leastwall
