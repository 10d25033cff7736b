#include "report/maps/heat_map.h"

#include "report/maps/compose_map.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

HeatMapLayoutInput layout_of(const CheckReport& report, const HeatMapOptions& options) {
  HeatMapLayoutInput layout;
  layout.width_px = options.width_px;
  layout.callouts = std::min(options.numbered, report.wall.regions.size());
  layout.inch = options.inch;
  return layout;
}

} // namespace

HeatMapLayout heat_map_layout_of(const WallMap& skin, const CheckReport& report,
                                 const HeatMapOptions& options) {
  return heat_map_layout(skin, layout_of(report, options));
}

std::string draw_heat_map(const WallMap& skin, const HeatMapValues& values,
                          const CheckReport& report, const HeatMapOptions& options) {
  MapSpec spec;
  spec.title = options.title.empty() ? report.title : options.title;
  spec.view = std::string("Wall in ") + (options.inch ? "inches" : "mm") +
              ", seen from the pocket side: x to the right, y up. True to scale.";
  if (report.one_of)
    spec.title_end = ", " + report.one_of->wall;
  if (report.one_of)
    spec.view += fmt::format(" Wall {} of {}.", report.one_of->number, report.one_of->of);
  spec.layout = layout_of(report, options);
  for (const RegionRow& row : report.wall.regions)
    spec.places.push_back({row.at.x, row.at.y, row.least_wall_mm});
  spec.numbered = options.numbered;
  spec.file = options.file;
  spec.shown_mm = values.expected_mm;
  spec.risk_mm = values.worst_mm;
  return compose_map(skin, report, spec);
}

} // namespace leastwall
