#include "report/page/page_marks.h"

#include "report/maps/side_marks.h"

#include <cmath>

namespace leastwall {
namespace {

double rounded(double mm) {
  return std::round(mm * 1e4) / 1e4;
}

Json point(Point2 p) {
  return Json::array({json_number(rounded(p.x)), json_number(rounded(p.y))});
}

Json side_json(const SideMarks& marks) {
  Json out = Json::object();
  if (marks.board_stated) {
    out["board"] = point(marks.board.low);
    for (const Json& v : point(marks.board.high))
      out["board"].push_back(v);
  }
  out["dowels"] = Json::array();
  for (const Point2 p : marks.dowels)
    out["dowels"].push_back(point(p));
  if (marks.touch_place == TouchPlace::good)
    out["touch"] = point(marks.touch);
  out["flip"] = Json::array({point(marks.flip_from), point(marks.flip_to)});
  return out;
}

} // namespace

Json page_marks(const Setup& setup, const Box& part, const WallMap& skin) {
  return {{"a", side_json(side_marks(setup, part, Side::a, skin.samples))},
          {"b", side_json(side_marks(setup, part, Side::b, skin.samples))}};
}

} // namespace leastwall
