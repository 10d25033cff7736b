// The parts of the heat map around and over the coloured piece; heat_map.cpp calls each once.
#pragma once

#include "report/check_report.h"
#include "report/draw/picture.h"
#include "report/maps/heat_map_layout.h"

#include <string>

namespace leastwall {

/// Verdict as a large word with a sign of its own, least wall and place: read across the room.
/// `thinnest`: the place in words; empty: as the report has it, in the model's frame.
void draw_band(Picture& picture, const HeatMapLayout& at, const CheckReport& report,
               const std::string& thinnest, bool inch);

/// Title and, under it, what the picture shows and how it is seen.
struct MapTitle {
  std::string title;
  std::string end; ///< of the title: kept where the title is too long, or empty
  std::string view;
};
void draw_title(Picture& picture, const HeatMapLayout& at, const MapTitle& words);

/// Numbers along x and y (in the unit of the layout), the frame, and the model origin where it lies
/// inside.
void draw_axes(Picture& picture, const HeatMapLayout& at);

/// Black and white bar of a round length.
void draw_scale_bar(Picture& picture, const HeatMapLayout& at);

/// The fixed colours with their walls in mm, the limit marked.
void draw_colour_scale(Picture& picture, const HeatMapLayout& at, double limit_mm, bool inch);

struct LegendOptions {
  bool at_risk = true; ///< worst-case values were given
  std::size_t numbered = 0, dots = 0;
  std::string wall = "expected wall"; ///< what the colours show
  std::string name = {};              ///< of the first thin place, where places have names
};
void draw_legend(Picture& picture, const HeatMapLayout& at, double limit_mm,
                 const LegendOptions& options);

/// "0.8": a limit with the decimals it needs, three at most.
std::string short_number(double value);

} // namespace leastwall
