#include "setup/place.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "base/maths/hypot.h"

#include <algorithm>
#include <fmt/format.h>
#include <limits>

namespace leastwall {

Point2 bed_place(const Setup& setup, Side side, Point2 part) {
  const Point2 lies = side_place(setup.flip, side, part);
  return {lies.x + setup.bed.part_origin_mm.x, lies.y + setup.bed.part_origin_mm.y};
}

double across_line(const Flip& flip, Point2 part) {
  return (flip.line == FlipLine::along_y ? part.x : part.y) - flip.at_mm;
}

double along_line(const Flip& flip, Point2 part) {
  return flip.line == FlipLine::along_y ? part.y : part.x;
}

Point2 on_line(const Flip& flip, double across_mm, double along_mm) {
  const double a = flip.at_mm + across_mm;
  return flip.line == FlipLine::along_y ? Point2{a, along_mm} : Point2{along_mm, a};
}

Point2 side_place(const Flip& flip, Side side, Point2 part) {
  if (side == Side::a)
    return part;
  return on_line(flip, -across_line(flip, part), along_line(flip, part));
}

std::vector<Point2> dowel_places(const Flip& flip, Point2 middle_of_board) {
  std::vector<Point2> out;
  if (!flip.dowels)
    return out;
  const Dowels& d = *flip.dowels;
  const Point2 middle = d.middle.value_or(on_line(flip, 0, along_line(flip, middle_of_board)));
  for (const double sign : {-0.5, 0.5}) {
    const double step = sign * d.spacing_mm;
    const double across = across_line(flip, middle) + (d.along_flip_line ? 0 : step);
    const double along = along_line(flip, middle) + (d.along_flip_line ? step : 0);
    out.push_back(on_line(flip, across, along));
  }
  return out;
}

double dowel_distance(const Flip& flip, Point2 middle_of_board, Point2 at) {
  double least = std::numeric_limits<double>::infinity();
  for (const Point2 pin : dowel_places(flip, middle_of_board))
    least = std::min(least, maths::hypot(at.x - pin.x, at.y - pin.y));
  return least;
}

Setup with_footprint_of(Setup setup, const Box& part) {
  if (!setup.board.footprint)
    setup.board.footprint = Footprint{{part.low.x, part.low.y}, {part.high.x, part.high.y}};
  return setup;
}

Footprint footprint_of(const Setup& setup) {
  if (!setup.board.footprint)
    throw InputError("the size of the board seen from above is needed: state its footprint");
  const Footprint& f = *setup.board.footprint;
  if (!(f.high.x > f.low.x) || !(f.high.y > f.low.y))
    throw InputError("the board's footprint has no area: state its low and high corner");
  return f;
}

Footprint footprint_on_bed(const Setup& setup, Side side) {
  const Footprint f = footprint_of(setup);
  const Point2 p = bed_place(setup, side, f.low), q = bed_place(setup, side, f.high);
  return {{std::min(p.x, q.x), std::min(p.y, q.y)}, {std::max(p.x, q.x), std::max(p.y, q.y)}};
}

Point2 touch_point_of(const Setup& setup, Side side, std::vector<Assumption>& assumptions) {
  return touch_point_of(setup, side_of(setup, side), side, assumptions);
}

Point2 touch_point_of(const Setup& setup, const SideSetup& how, Side side,
                      std::vector<Assumption>& assumptions) {
  if (how.touch_point)
    return *how.touch_point;
  const Point2 p = footprint_of(setup).middle();
  note(assumptions, fmt::format("{} is touched off in the middle of the part, x {:.1f} y {:.1f}",
                                side_text(side), p.x, p.y));
  return p;
}

} // namespace leastwall
