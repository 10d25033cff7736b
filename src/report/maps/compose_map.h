// One composer for all maps of a piece: the coloured skin or another field, thin places, marks,
// verdict band, title, scales and legend, each where the layout has it.
#pragma once

#include "report/check_report.h"
#include "report/draw/picture.h"
#include "report/maps/heat_map_layout.h"
#include "report/maps/heat_map_overlay.h"
#include "wall/sampling/wall_map.h"

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace leastwall {

using DrawOnMap = std::function<void(Picture&, const HeatMapLayout&)>;

/// What a map of any kind is made of, in the order of drawing; axes and the scale bar are always
/// there. What is absent is not drawn.
struct MapParts {
  DrawOnMap field, marks; ///< inside the frame, under the axes
  DrawOnMap places;       ///< thin places and the like, over them
  DrawOnMap title;        ///< above the frame: band, title, note
  DrawOnMap scale_legend; ///< below it: scale of colours and what the signs mean
  DrawOnMap marks_legend; ///< of the shop
  PictureFile file = PictureFile::png;
  std::string name; ///< of the picture, for readers that do not see it
};

/// The file's bytes; the same input gives the same bytes.
std::string compose(const HeatMapLayout& at, const MapParts& parts);

struct MapSpec {
  std::string title, view; ///< what is shown, and how it is seen
  std::string title_end;   ///< of the title, kept where it is too long
  std::string thinnest;    ///< where the wall is least, where that is not as the report has it
  HeatMapLayoutInput layout;
  std::vector<ShownPlace> places; ///< as numbered in the report
  std::size_t numbered = 12;      ///< so many of them get a number, the others a dot
  std::optional<double> limit_mm; ///< what is hatched; absent: the report's limit
  /// One wall a sample, mm: gives colours and the line along the limit. `risk_mm` gives the wide
  /// hatching and its edge; empty: not drawn.
  std::span<const double> shown_mm, risk_mm;
  std::string wall = "expected wall"; ///< what the colours show, for the legend
  DrawOnMap field, field_legend;      ///< drawn instead of walls and of their scale and legend
  DrawOnMap marks, marks_legend;      ///< of the shop; may be absent
  PictureFile file = PictureFile::png;
};

/// The file's bytes; the same input gives the same bytes. `seen` is the skin as the map is seen,
/// `report` gives verdict and limit. Throws RunError when nothing was measured or the counts do not
/// match, InputError for a width out of range.
std::string compose_map(const WallMap& seen, const CheckReport& report, const MapSpec& spec);

} // namespace leastwall
