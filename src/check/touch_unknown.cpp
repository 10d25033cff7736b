#include "check/touch_unknown.h"

#include <fmt/format.h>
#include <utility>

namespace leastwall {

bool touch_place_matters(const Setup& setup, Side side) {
  const bool on_board = side_of(setup, side).zero == ZeroFrom::top;
  return setup.bed.readings != nullptr || (on_board && setup.board.thickness_readings != nullptr) ||
         (on_board && side == Side::b && setup.board.resin_cup_mm > 0);
}

namespace {

Severity weight(bool hold) {
  return hold ? Severity::unproven : Severity::doubt;
}

} // namespace

std::vector<Notice> touch_not_stated(const Setup& setup, bool hold) {
  std::vector<Notice> out;
  for (const auto& [how, cut] :
       {std::pair{&setup.inner, &setup.inner_cut}, std::pair{&setup.outer, &setup.outer_cut}}) {
    if (how->touch_point || !touch_place_matters(setup, cut->side))
      continue;
    const bool a = cut->side == Side::a;
    out.push_back({"touch-not-stated",
                   fmt::format("Side {}: nothing says where Z is touched, and {}, so every wall "
                               "hangs on that place. State {}side_{}.touch_point.",
                               a ? "A" : "B",
                               setup.bed.readings               ? "the bed was read in places"
                               : setup.board.thickness_readings ? "the board was read in places"
                                                                : "the board is cupped",
                               how->pocket_key, a ? "a" : "b"),
                   weight(hold), a ? NoticeAbout::side_a : NoticeAbout::side_b});
  }
  return out;
}

void weigh_touch(const Setup& setup, bool hold, std::vector<Notice>& notices) {
  for (Notice& n : notices)
    if (touch_place_matters(setup, n.about == NoticeAbout::side_a ? Side::a : Side::b))
      n.severity = weight(hold);
}

} // namespace leastwall
