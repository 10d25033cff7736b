#include "report/maps/compose_map.h"

#include "base/errors.h"
#include "report/maps/heat_map_parts.h"
#include "report/maps/wall_parts.h"

namespace leastwall {
namespace {

void require_counts(const WallMap& seen, const MapSpec& spec) {
  const std::size_t count = seen.samples.size();
  if ((!spec.field && spec.shown_mm.size() != count) ||
      (!spec.risk_mm.empty() && spec.risk_mm.size() != count))
    throw RunError("map: the number of walls differs from the number of samples; please keep the "
                   "meshes and report it as a fault of leastwall");
}

void draw_walls(Picture& picture, const HeatMapLayout& at, HeatMapOverlay& overlay,
                const WallMap& seen, double limit_mm, const MapSpec& spec) {
  const WallParts parts = wall_parts(seen, spec.shown_mm, spec.risk_mm, at, limit_mm);
  picture.image(parts.pixels, at.frame_left, at.frame_top);
  picture.clip(at.frame_left, at.frame_top, at.frame_width, at.frame_height);
  if (!spec.risk_mm.empty())
    overlay.risk_edge(parts.worst_lines);
  overlay.contours(parts.shown_lines);
  picture.unclip();
}

} // namespace

std::string compose(const HeatMapLayout& at, const MapParts& parts) {
  Picture picture(at.width, at.height, parts.file, parts.name);
  const auto draw = [&](const DrawOnMap& part) {
    if (part)
      part(picture, at);
  };
  draw(parts.field);
  draw(parts.marks);
  draw_axes(picture, at);
  draw(parts.places);
  draw(parts.title);
  draw_scale_bar(picture, at);
  draw(parts.scale_legend);
  draw(parts.marks_legend);
  return picture.file();
}

std::string compose_map(const WallMap& seen, const CheckReport& report, const MapSpec& spec) {
  require_counts(seen, spec);
  const double limit = spec.limit_mm.value_or(report.wall.limit_mm);
  const bool inch = spec.layout.inch;
  const HeatMapLayout layout = heat_map_layout(seen, spec.layout);
  std::optional<HeatMapOverlay> overlay; // needs the picture
  MapParts parts;
  parts.file = spec.file;
  parts.name = spec.title;
  parts.field = [&](Picture& picture, const HeatMapLayout& at) {
    overlay.emplace(picture, at, spec.places, limit, spec.numbered);
    if (spec.field)
      spec.field(picture, at);
    else
      draw_walls(picture, at, *overlay, seen, limit, spec);
  };
  parts.marks = spec.marks;
  parts.places = [&](Picture&, const HeatMapLayout&) { overlay->places(); };
  parts.title = [&](Picture& picture, const HeatMapLayout& at) {
    draw_band(picture, at, report, spec.thinnest, inch);
    draw_title(picture, at, {spec.title, spec.title_end, spec.view});
  };
  parts.scale_legend = spec.field_legend;
  if (!spec.field_legend)
    parts.scale_legend = [&](Picture& picture, const HeatMapLayout& at) {
      draw_colour_scale(picture, at, limit, inch);
      draw_legend(picture, at, limit,
                  {!spec.risk_mm.empty(), overlay->numbered(),
                   spec.places.size() - overlay->numbered(), spec.wall,
                   spec.places.empty() ? std::string() : spec.places.front().name});
    };
  parts.marks_legend = spec.marks_legend;
  return compose(layout, parts);
}

} // namespace leastwall
