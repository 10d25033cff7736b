#include "report/maps/side_marks.h"

#include "causes/model/cause_terms.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

void add(Footprint& to, Point2 p) {
  to.low = {std::min(to.low.x, p.x), std::min(to.low.y, p.y)};
  to.high = {std::max(to.high.x, p.x), std::max(to.high.y, p.y)};
}

/// Does none of the parts cut away what is touched, each asked for itself?
bool between_parts(const Setup& setup, Side side, Point2 touch, std::span<const WallSample> samples,
                   std::span<const std::size_t> of_parts) {
  std::size_t first = 0;
  for (const std::size_t count : of_parts) {
    if (count > samples.size() - first ||
        touch_place(setup, side, touch, samples.subspan(first, count)) != TouchPlace::good)
      return false;
    first += count;
  }
  return !of_parts.empty() && first == samples.size();
}

} // namespace

std::string machine_view(Side side) {
  return fmt::format("Side {} as seen at the machine: {} up, X to the right, Y away from you. True "
                     "to scale.",
                     side == Side::a ? "A" : "B", side == Side::a ? "pocket face" : "skin face");
}

Footprint side_place(const Flip& flip, Side side, const Footprint& model) {
  const Point2 p = side_place(flip, side, model.low);
  Footprint out{p, p};
  add(out, side_place(flip, side, model.high));
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
  add(out, part.low);
  add(out, part.high);
  for (const Point2 p : dowels)
    add(out, p);
  return out;
}

Footprint SideMarks::all() const {
  Footprint out = solid();
  for (const Point2 p : {flip_from, flip_to})
    add(out, p);
  if (touch_place == TouchPlace::good)
    add(out, touch);
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
  out.touch_place = touch_place(setup, side, touch, samples);
  if (out.touch_place == TouchPlace::cut_away &&
      between_parts(setup, side, touch, samples, of_parts))
    out.touch_place = TouchPlace::good;
  Footprint reach = board;
  for (const Point2 p : dowel_places(flip, board.middle())) {
    add(reach, p);
    out.dowels.push_back(side_place(flip, side, p));
  }
  const double low = along_line(flip, reach.low), high = along_line(flip, reach.high);
  const double beyond = 0.04 * (high - low);
  out.flip_from = on_line(flip, 0, low - beyond);
  out.flip_to = on_line(flip, 0, high + beyond);
  return out;
}

} // namespace leastwall
