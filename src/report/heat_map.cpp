#include "report/heat_map.h"

#include "base/errors.h"
#include "report/callouts.h"
#include "report/contour_lines.h"
#include "report/heat_map_parts.h"
#include "report/number_text.h"
#include "report/rasterise_wall.h"
#include "report/wall_pixels.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leastwall {
namespace {

struct Rect {
  double left, top, right, bottom;

  bool overlaps(const Rect& o) const {
    return left < o.right && o.left < right && top < o.bottom && o.top < bottom;
  }
};

Rect around(PicturePoint p, double half_x, double half_y) {
  return {p.x - half_x, p.y - half_y, p.x + half_x, p.y + half_y};
}

std::vector<PicturePoint> region_places(const CheckReport& report, const HeatMapLayout& at) {
  std::vector<PicturePoint> out;
  for (const RegionRow& row : report.regions)
    out.push_back({at.px_x(row.at.x), at.px_y(row.at.y)});
  return out;
}

/// Everything drawn over the map keeps clear of what is in here.
class Overlay {
 public:
  Overlay(Picture& picture, const HeatMapLayout& at, const CheckReport& report,
          std::size_t numbered)
      : p_(picture), at_(at), report_(report), u_(at.unit), places_(region_places(report, at)) {
    const std::size_t count = std::min(numbered, places_.size());
    const double inner = at.gutter - 12 * u_;
    callouts_ =
        place_callouts({places_.begin(), places_.begin() + static_cast<std::ptrdiff_t>(count)},
                       {at.frame_left + inner, at.frame_left + at.frame_width - inner,
                        static_cast<double>(at.frame_top),
                        static_cast<double>(at.frame_top + at.frame_height), 56 * u_});
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

  std::size_t numbered() const { return callouts_.size(); }

  /// The edge of what may end under the limit: a thin line without a number.
  void risk_edge(const std::vector<ContourLine>& lines) {
    for (const auto& points : on_picture(lines))
      p_.line(points, {2.5 * u_, kBlack});
  }

  void contours(const std::vector<ContourLine>& lines) {
    const auto drawn = on_picture(lines);
    for (const auto& points : drawn)
      p_.line(points, {9 * u_, kWhite});
    for (const auto& points : drawn)
      p_.line(points, {4 * u_, kBlack});
    std::size_t labels = 0;
    for (const auto& points : drawn)
      if (labels < 4 && static_cast<double>(points.size()) > 160 * u_)
        labels += label(points) ? 1 : 0;
  }

  void places() {
    for (std::size_t i = callouts_.size(); i < places_.size(); ++i)
      p_.disc(places_[i].x, places_[i].y, 6 * u_, kBlack, 2.5 * u_, kWhite);
    for (std::size_t i = callouts_.size(); i-- > 0;)
      p_.line({leader_start(i), places_[i]}, {3.5 * u_, kBlack, 2.5 * u_, kWhite});
    for (std::size_t i = callouts_.size(); i-- > 0;)
      p_.disc(places_[i].x, places_[i].y, 8 * u_, kWhite, 4.5 * u_, kBlack);
    for (std::size_t i = 0; i < callouts_.size(); ++i)
      callout(i);
  }

 private:
  /// In picture pixels, without the specks.
  std::vector<std::vector<PicturePoint>> on_picture(const std::vector<ContourLine>& lines) const {
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

  double box_left(std::size_t i) const {
    return callouts_[i].left ? at_.frame_left + 12 * u_
                             : at_.frame_left + at_.frame_width - 12 * u_ - kBoxWidth * u_;
  }
  PicturePoint leader_start(std::size_t i) const {
    return {callouts_[i].left ? box_left(i) + kBoxWidth * u_ : box_left(i), callouts_[i].y};
  }

  void callout(std::size_t i) {
    const double wall = report_.regions[i].least_wall_mm, left = box_left(i), y = callouts_[i].y;
    const bool cut = wall <= 0;
    const Rgb back = cut ? kBlack : kWhite, ink = cut ? kWhite : kBlack;
    p_.rectangle(left, y - 23 * u_, kBoxWidth * u_, 46 * u_, back, 3 * u_, kBlack);
    p_.disc(left + 27 * u_, y, 20 * u_, ink);
    const std::string number = std::to_string(i + 1);
    p_.text(number, left + 27 * u_, y + 10 * u_,
            {(number.size() > 2 ? 18 : 26) * u_, back, Align::centre, true, {}});
    p_.text(cut ? "HOLE" : wall_text(wall, report_.limit_mm), left + 56 * u_, y + 10 * u_,
            {29 * u_, ink, Align::left, true, {}});
  }

  /// The limit's number on a contour, where it covers nothing else.
  bool label(const std::vector<PicturePoint>& points) {
    const std::string text = short_number(report_.limit_mm);
    const TextStyle style{28 * u_, kBlack, Align::centre, true, {}};
    const double half = p_.text_width(text, style) / 2 + 8 * u_;
    const Rect frame{at_.frame_left + 4 * u_, at_.frame_top + 4 * u_,
                     at_.frame_left + at_.frame_width - 4 * u_,
                     at_.frame_top + at_.frame_height - 4 * u_};
    for (const double f : {0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875, 0.06, 0.94}) {
      const PicturePoint p =
          points[static_cast<std::size_t>(f * static_cast<double>(points.size() - 1))];
      const Rect box = around(p, half, 19 * u_);
      if (box.left < frame.left || box.right > frame.right || box.top < frame.top ||
          box.bottom > frame.bottom ||
          std::ranges::any_of(taken_, [&](const Rect& r) { return r.overlaps(box); }))
        continue;
      p_.rectangle(box.left, box.top, 2 * half, 38 * u_, kWhite, 2.5 * u_, kBlack);
      p_.text(text, p.x, p.y + 10 * u_, style);
      taken_.push_back(box);
      return true;
    }
    return false;
  }

  static constexpr double kBoxWidth = 158;
  Picture& p_;
  const HeatMapLayout& at_;
  const CheckReport& report_;
  double u_;
  std::vector<PicturePoint> places_;
  std::vector<Callout> callouts_;
  std::vector<Rect> taken_;
};

WallGrid grid_of(const WallMap& skin, std::span<const double> values, const HeatMapLayout& at) {
  WallGrid grid{at.frame_width, at.frame_height, at.mm_per_px, at.left_mm, at.top_mm, {}};
  if (!values.empty())
    rasterise_wall(skin, values, grid);
  return grid;
}

} // namespace

HeatMapLayout heat_map_layout_of(const WallMap& skin, const CheckReport& report,
                                 const HeatMapOptions& options) {
  return heat_map_layout(
      skin, {options.width_px, std::min(options.numbered, report.regions.size()), 3, options.inch});
}

std::string draw_heat_map(const WallMap& skin, const HeatMapValues& values,
                          const CheckReport& report, const HeatMapOptions& options) {
  if (values.expected_mm.size() != skin.samples.size() ||
      (!values.worst_mm.empty() && values.worst_mm.size() != skin.samples.size()))
    throw RunError("heat map: the number of walls differs from the number of samples; please "
                   "keep the meshes and report it as a fault of leastwall");
  const HeatMapLayout at = heat_map_layout_of(skin, report, options);
  const WallGrid expected = grid_of(skin, values.expected_mm, at);
  const WallGrid worst = grid_of(skin, values.worst_mm, at);

  Picture picture(at.width, at.height);
  picture.image(wall_pixels(expected, worst, report.limit_mm, at.unit), at.frame_left,
                at.frame_top);
  Overlay overlay(picture, at, report, options.numbered);
  picture.clip(at.frame_left, at.frame_top, at.frame_width, at.frame_height);
  const int rounds = std::max(1, static_cast<int>(std::lround(3 * at.unit)));
  if (!values.worst_mm.empty())
    overlay.risk_edge(contour_lines(smoothed(worst, rounds), report.limit_mm));
  overlay.contours(contour_lines(smoothed(expected, rounds), report.limit_mm));
  picture.unclip();
  draw_axes(picture, at);
  overlay.places();
  draw_band(picture, at, report, options.inch);
  draw_title(picture, at, options.title.empty() ? report.title : options.title);
  draw_scale_bar(picture, at, options.inch);
  draw_colour_scale(picture, at, report.limit_mm, options.inch);
  draw_legend(
      picture, at, report.limit_mm,
      {!values.worst_mm.empty(), overlay.numbered(), report.regions.size() - overlay.numbered()});
  return picture.png();
}

} // namespace leastwall
