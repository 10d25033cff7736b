// What is drawn over the coloured piece: contours, numbered thin places, and the labels of both,
// kept clear of each other.
#pragma once

#include "report/draw/callouts.h"
#include "report/draw/contour_lines.h"
#include "report/draw/label_places.h"
#include "report/draw/picture.h"
#include "report/maps/heat_map_layout.h"

#include <string>
#include <vector>

namespace leastwall {

/// A thin place as a picture shows it: where, in the picture's own x, y, and the wall there, mm.
struct ShownPlace {
  double x_mm = 0, y_mm = 0;
  double wall_mm = 0;
  std::string name = {}; ///< absent: its number by order
};

class HeatMapOverlay {
 public:
  /// The first `numbered` places get a number and their wall in a callout, the others a dot.
  HeatMapOverlay(Picture& picture, const HeatMapLayout& at, std::vector<ShownPlace> shown,
                 double limit_mm, std::size_t numbered);

  std::size_t numbered() const { return callouts_.size(); }

  /// The edge of what may end under the limit: a thin line without a number.
  void risk_edge(const std::vector<ContourLine>& lines);
  /// The limit as a heavy line with its number.
  void contours(const std::vector<ContourLine>& lines);
  void places();

 private:
  std::vector<std::vector<PicturePoint>> on_picture(const std::vector<ContourLine>& lines) const;
  double box_left(std::size_t i) const;
  PicturePoint leader_start(std::size_t i) const;
  void callout(std::size_t i);
  bool label(const std::vector<PicturePoint>& points);

  Picture& p_;
  const HeatMapLayout& at_;
  std::vector<ShownPlace> shown_;
  double limit_mm_;
  double u_;
  std::vector<PicturePoint> places_;
  std::vector<Callout> callouts_;
  std::vector<LabelBox> taken_;
};

} // namespace leastwall
