#include "report/maps/side_marks.h"

#include "causes/model/cause_terms.h"
#include "report/words/number_text.h"

#include <fmt/format.h>

namespace leastwall {

std::string machine_view(Side side) {
  return fmt::format("Side {} as seen at the machine: {} up, X to the right, Y away from you. True "
                     "to scale.",
                     side == Side::a ? "A" : "B", side == Side::a ? "pocket face" : "skin face");
}

std::string thinnest_on(Side side, const Flip& flip, const CheckReport& report, bool inch) {
  if (side == Side::a)
    return {};
  const Vec3& model = report.wall.least_wall.at;
  return fmt::format("{} here, on side B; in the model {}",
                     plan_text(side_place(flip, side, Point2{model.x, model.y}), inch),
                     inch ? place_text_inch(model) : place_text(model));
}

Footprint side_place(const Flip& flip, Side side, const Footprint& model) {
  const Point2 p = side_place(flip, side, model.low);
  Footprint out{p, p};
  out.add(side_place(flip, side, model.high));
  return out;
}

WallMap seen_from(const WallMap& map, const Flip& flip, Side side) {
  WallMap out = map;
  if (side == Side::a)
    return out;
  for (WallSample& s : out.samples) {
    const Point2 p = side_place(flip, side, Point2{s.at.x, s.at.y});
    s.at.x = p.x;
    s.at.y = p.y;
    (flip.line == FlipLine::along_y ? s.n.x : s.n.y) *= -1;
  }
  return out;
}

Footprint SideMarks::solid() const {
  Footprint out = board;
  out.add(part.low);
  out.add(part.high);
  for (const Point2 p : dowels)
    out.add(p);
  return out;
}

Footprint SideMarks::all() const {
  Footprint out = solid();
  for (const Point2 p : {flip_from, flip_to})
    out.add(p);
  if (touch_place == TouchPlace::good)
    out.add(touch);
  return out;
}

SideMarks side_marks(const Setup& setup, const Box& part, Side side,
                     std::span<const WallSample> samples, std::span<const std::size_t> of_parts) {
  const Flip& flip = setup.flip;
  const Footprint of_part{{part.low.x, part.low.y}, {part.high.x, part.high.y}};
  const Footprint board = setup.board.footprint.value_or(of_part);
  SideMarks out;
  out.board_stated = setup.board.footprint.has_value();
  out.board = side_place(flip, side, board);
  out.part = side_place(flip, side, of_part);
  const SideSetup& own = side_of(setup, side);
  out.touch_stated = own.touch_point.has_value();
  const Point2 touch = own.touch_point.value_or(board.middle());
  out.touch = side_place(flip, side, touch);
  out.touch_place = touch_place(setup, side, touch, samples, of_parts);
  Footprint reach = board;
  for (const Point2 p : dowel_places(flip, board.middle())) {
    reach.add(p);
    out.dowels.push_back(side_place(flip, side, p));
  }
  const double low = along_line(flip, reach.low), high = along_line(flip, reach.high);
  const double beyond = 0.04 * (high - low);
  out.flip_from = on_line(flip, 0, low - beyond);
  out.flip_to = on_line(flip, 0, high + beyond);
  return out;
}

} // namespace leastwall
