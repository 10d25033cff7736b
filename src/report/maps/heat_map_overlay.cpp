#include "report/maps/heat_map_overlay.h"

#include "base/units.h"
#include "report/maps/heat_map_parts.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <functional>
#include <numeric>
#include <utility>

namespace leastwall {
namespace {

constexpr double kBoxWidth = 158;

LabelBox around(PicturePoint p, double half_x, double half_y) {
  return {p.x - half_x, p.y - half_y, p.x + half_x, p.y + half_y};
}

} // namespace

HeatMapOverlay::HeatMapOverlay(Picture& picture, const HeatMapLayout& at,
                               std::vector<ShownPlace> shown, double limit_mm, std::size_t numbered)
    : p_(picture), at_(at), shown_(std::move(shown)), limit_mm_(limit_mm), u_(at.unit) {
  for (const ShownPlace& s : shown_)
    places_.push_back({at.px_x(s.x_mm), at.px_y(s.y_mm)});
  const std::size_t count = std::min(numbered, places_.size());
  const double inner = at.gutter - 12 * u_;
  callouts_ =
      place_callouts({places_.begin(), places_.begin() + static_cast<std::ptrdiff_t>(count)},
                     {at.frame_left + inner, at.frame_left + at.frame_width - inner,
                      static_cast<double>(at.frame_top),
                      static_cast<double>(at.frame_top + at.frame_height), 56 * u_});
  // The mark of the origin and its words (draw_axes).
  taken_.push_back(around({at.px_x(0) + 34 * u_, at.px_y(0) + 8 * u_}, 64 * u_, 38 * u_));
  for (std::size_t i = 0; i < callouts_.size(); ++i) {
    taken_.push_back(around(places_[i], 16 * u_, 16 * u_));
    const PicturePoint from = leader_start(i);
    for (int step = 0; step <= 40; ++step) {
      const double f = step / 40.0;
      taken_.push_back(
          around({from.x + f * (places_[i].x - from.x), from.y + f * (places_[i].y - from.y)},
                 5 * u_, 5 * u_));
    }
  }
}

void HeatMapOverlay::risk_edge(const std::vector<ContourLine>& lines) {
  for (const auto& points : on_picture(lines))
    p_.line(points, {2.5 * u_, kBlack});
}

void HeatMapOverlay::contours(const std::vector<ContourLine>& lines) {
  const auto drawn = on_picture(lines);
  for (const auto& points : drawn)
    p_.line(points, {9 * u_, kWhite});
  for (const auto& points : drawn)
    p_.line(points, {4 * u_, kBlack});
  // All have the same number: it stands once, on the longest that has room for it.
  std::vector<std::size_t> by_length(drawn.size());
  std::iota(by_length.begin(), by_length.end(), std::size_t{0});
  std::ranges::stable_sort(by_length, std::greater{},
                           [&](std::size_t i) { return drawn[i].size(); });
  for (const std::size_t i : by_length)
    if (static_cast<double>(drawn[i].size()) <= 160 * u_ || label(drawn[i]))
      break;
}

void HeatMapOverlay::places() {
  for (std::size_t i = callouts_.size(); i < places_.size(); ++i)
    p_.disc(places_[i].x, places_[i].y, 6 * u_, kBlack, 2.5 * u_, kWhite);
  for (std::size_t i = callouts_.size(); i-- > 0;)
    p_.line({leader_start(i), places_[i]}, {3.5 * u_, kBlack, 2.5 * u_, kWhite});
  for (std::size_t i = callouts_.size(); i-- > 0;)
    p_.disc(places_[i].x, places_[i].y, 8 * u_, kWhite, 4.5 * u_, kBlack);
  for (std::size_t i = 0; i < callouts_.size(); ++i)
    callout(i);
}

std::vector<std::vector<PicturePoint>>
HeatMapOverlay::on_picture(const std::vector<ContourLine>& lines) const {
  std::vector<std::vector<PicturePoint>> out;
  for (const ContourLine& line : lines) {
    if (line.size() < 8)
      continue;
    out.emplace_back();
    for (const GridPoint& q : line)
      out.back().push_back({at_.frame_left + q.x, at_.frame_top + q.y});
  }
  return out;
}

double HeatMapOverlay::box_left(std::size_t i) const {
  return callouts_[i].left ? at_.frame_left + 12 * u_
                           : at_.frame_left + at_.frame_width - 12 * u_ - kBoxWidth * u_;
}

PicturePoint HeatMapOverlay::leader_start(std::size_t i) const {
  return {callouts_[i].left ? box_left(i) + kBoxWidth * u_ : box_left(i), callouts_[i].y};
}

void HeatMapOverlay::callout(std::size_t i) {
  const double wall = shown_[i].wall_mm, left = box_left(i), y = callouts_[i].y;
  const bool cut = wall <= 0;
  const Rgb back = cut ? kBlack : kWhite, ink = cut ? kWhite : kBlack;
  p_.rectangle(left, y - 23 * u_, kBoxWidth * u_, 46 * u_, back, 3 * u_, kBlack);
  const std::string& name = shown_[i].name;
  double tag = 56 * u_; // from the left to the wall
  if (name.empty()) {
    const std::string number = std::to_string(i + 1);
    p_.disc(left + 27 * u_, y, 20 * u_, ink);
    p_.text(number, left + 27 * u_, y + 10 * u_,
            {(number.size() > 2 ? 18 : 26) * u_, back, Align::centre, true, {}});
  } else {
    const TextStyle style{24 * u_, back, Align::left, true, {}};
    const double width = p_.text_width(name, style) + 14 * u_;
    p_.rectangle(left, y - 23 * u_, width, 46 * u_, ink);
    p_.text(name, left + 7 * u_, y + 9 * u_, style);
    tag = width + 8 * u_;
  }
  const std::string words = cut        ? "HOLE"
                            : at_.inch ? wall_text_inch(wall, limit_mm_)
                                       : wall_text(wall, limit_mm_);
  TextStyle style{29 * u_, ink, Align::left, true, {}};
  style.size *= std::min(1.0, (kBoxWidth * u_ - tag - 8 * u_) / p_.text_width(words, style));
  p_.text(words, left + tag, y + 10 * u_, style);
}

/// The limit's number on a contour, where it covers nothing else.
bool HeatMapOverlay::label(const std::vector<PicturePoint>& points) {
  const std::string text =
      at_.inch ? fixed_text(limit_mm_ / kMillimetresPerInch, 4) : short_number(limit_mm_);
  const TextStyle style{28 * u_, kBlack, Align::centre, true, {}};
  const double half = p_.text_width(text, style) / 2 + 8 * u_;
  const LabelBox frame{at_.frame_left + 4 * u_, at_.frame_top + 4 * u_,
                       at_.frame_left + at_.frame_width - 4 * u_,
                       at_.frame_top + at_.frame_height - 4 * u_};
  for (const double f : {0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875, 0.06, 0.94}) {
    const PicturePoint p =
        points[static_cast<std::size_t>(f * static_cast<double>(points.size() - 1))];
    const LabelBox box = around(p, half, 19 * u_);
    if (box.left < frame.left || box.right > frame.right || box.top < frame.top ||
        box.bottom > frame.bottom ||
        std::ranges::any_of(taken_, [&](const LabelBox& r) { return r.overlaps(box); }))
      continue;
    p_.rectangle(box.left, box.top, 2 * half, 38 * u_, kWhite, 2.5 * u_, kBlack);
    p_.text(text, p.x, p.y + 10 * u_, style);
    taken_.push_back(box);
    return true;
  }
  return false;
}

} // namespace leastwall
