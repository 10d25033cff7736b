#include "report/maps/shop_map_marks.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

/// Long dash, gap, short dash, gap, along a straight line.
void dash_dot(Picture& picture, PicturePoint from, PicturePoint to, double u) {
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0))
    return;
  const auto at = [&](double s) {
    const double f = std::min(s, length) / length;
    return PicturePoint{from.x + f * (to.x - from.x), from.y + f * (to.y - from.y)};
  };
  const LineStyle style{4 * u, kBlack, 2.5 * u, kWhite};
  for (double s = 0; s < length; s += 56 * u) {
    picture.line({at(s), at(s + 30 * u)}, style);
    if (s + 40 * u < length)
      picture.line({at(s + 40 * u), at(s + 46 * u)}, style);
  }
}

void board_line(Picture& picture, const std::vector<PicturePoint>& points, double u) {
  picture.line(points, {6 * u, kBlack, 2.5 * u, kWhite});
}

void dowel(Picture& picture, PicturePoint p, double u) {
  picture.disc(p.x, p.y, 17 * u, kWhite);
  picture.disc(p.x, p.y, 14 * u, kWhite, 4 * u, kBlack);
  picture.line({{p.x - 22 * u, p.y}, {p.x + 22 * u, p.y}}, {3 * u, kBlack});
  picture.line({{p.x, p.y - 22 * u}, {p.x, p.y + 22 * u}}, {3 * u, kBlack});
}

/// A bit's point standing on its place.
void touch(Picture& picture, PicturePoint p, double u) {
  picture.polygon({{p.x, p.y + 5 * u}, {p.x - 24 * u, p.y - 42 * u}, {p.x + 24 * u, p.y - 42 * u}},
                  kWhite);
  picture.polygon({p, {p.x - 18 * u, p.y - 38 * u}, {p.x + 18 * u, p.y - 38 * u}}, kBlack);
  picture.text("Z", p.x, p.y - 17 * u, {21 * u, kWhite, Align::centre, true, {}});
}

} // namespace

void draw_shop_marks(Picture& picture, const HeatMapLayout& at, const SideMarks& marks) {
  const double u = at.unit;
  const auto on = [&](Point2 p) { return PicturePoint{at.px_x(p.x), at.px_y(p.y)}; };
  if (marks.board_stated) {
    const PicturePoint low = on(marks.board.low), high = on(marks.board.high);
    board_line(picture, {low, {high.x, low.y}, high, {low.x, high.y}, low, {high.x, low.y}}, u);
  }
  dash_dot(picture, on(marks.flip_from), on(marks.flip_to), u);
  for (const Point2& d : marks.dowels)
    dowel(picture, on(d), u);
  if (marks.touch_place == TouchPlace::good)
    touch(picture, on(marks.touch), u);
}

void draw_marks_legend(Picture& picture, const HeatMapLayout& at, const SideMarks& marks,
                       bool flip_stated, double top) {
  const double u = at.unit, swatch = 84 * u;
  int entry = 0;
  const auto place = [&](const std::string& text) {
    const double x = at.frame_left + (entry % 2) * 730 * u - swatch;
    const double y = top + (entry / 2) * at.legend_pitch + 18 * u;
    ++entry;
    TextStyle style{28 * u, kBlack, Align::left, false, {}};
    style.size *= std::min(1.0, 610 * u / picture.text_width(text, style));
    picture.text(text, x + swatch + 20 * u, y + 10 * u, style);
    return PicturePoint{x, y};
  };
  const auto across = [&](PicturePoint p) { return PicturePoint{p.x + swatch, p.y}; };
  if (marks.board_stated) {
    const PicturePoint p = place("board");
    board_line(picture, {p, across(p)}, u);
  } else {
    place("board: not stated, not drawn");
  }
  const PicturePoint flip = place(flip_stated ? "flip line" : "flip line (not stated, taken)");
  dash_dot(picture, flip, across(flip), u);
  if (!marks.dowels.empty()) {
    const PicturePoint p = place("dowel");
    dowel(picture, {p.x + swatch / 2, p.y}, u);
  }
  if (marks.touch_place != TouchPlace::good) {
    place("Z zero: no one can touch where it is stated or taken");
    return;
  }
  const PicturePoint p =
      place(marks.touch_stated ? "touch Z zero here" : "Z zero touched here (not stated, taken)");
  touch(picture, {p.x + swatch / 2, p.y + 18 * u}, u);
}

} // namespace leastwall
