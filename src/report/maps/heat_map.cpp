#include "report/maps/heat_map.h"

#include "base/errors.h"
#include "report/maps/heat_map_overlay.h"
#include "report/maps/heat_map_parts.h"
#include "report/maps/wall_parts.h"

#include <algorithm>

namespace leastwall {
namespace {

std::vector<ShownPlace> shown_places(const CheckReport& report) {
  std::vector<ShownPlace> out;
  for (const RegionRow& row : report.regions)
    out.push_back({row.at.x, row.at.y, row.least_wall_mm});
  return out;
}

} // namespace

HeatMapLayout heat_map_layout_of(const WallMap& skin, const CheckReport& report,
                                 const HeatMapOptions& options) {
  return heat_map_layout(skin, {options.width_px,
                                std::min(options.numbered, report.regions.size()),
                                3,
                                options.inch,
                                {},
                                true});
}

std::string draw_heat_map(const WallMap& skin, const HeatMapValues& values,
                          const CheckReport& report, const HeatMapOptions& options) {
  if (values.expected_mm.size() != skin.samples.size() ||
      (!values.worst_mm.empty() && values.worst_mm.size() != skin.samples.size()))
    throw RunError("heat map: the number of walls differs from the number of samples; please "
                   "keep the meshes and report it as a fault of leastwall");
  const HeatMapLayout at = heat_map_layout_of(skin, report, options);
  const WallParts parts =
      wall_parts(skin, values.expected_mm, values.worst_mm, at, report.limit_mm);

  Picture picture(at.width, at.height);
  picture.image(parts.pixels, at.frame_left, at.frame_top);
  HeatMapOverlay overlay(picture, at, shown_places(report), report.limit_mm, options.numbered);
  picture.clip(at.frame_left, at.frame_top, at.frame_width, at.frame_height);
  if (!values.worst_mm.empty())
    overlay.risk_edge(parts.worst_lines);
  overlay.contours(parts.shown_lines);
  picture.unclip();
  draw_axes(picture, at);
  overlay.places();
  draw_band(picture, at, report, options.inch);
  draw_title(picture, at, options.title.empty() ? report.title : options.title,
             std::string("Wall in ") + (options.inch ? "inches" : "mm") +
                 ", seen from the pocket side: x to the right, y up. True to scale.");
  draw_scale_bar(picture, at);
  draw_colour_scale(picture, at, report.limit_mm, options.inch);
  LegendOptions legend;
  legend.at_risk = !values.worst_mm.empty();
  legend.numbered = overlay.numbered();
  legend.dots = report.regions.size() - overlay.numbered();
  draw_legend(picture, at, report.limit_mm, legend);
  return picture.png();
}

} // namespace leastwall
