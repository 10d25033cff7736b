#include "report/maps/bed_map_parts.h"

#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "report/draw/colour_map.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

/// A line in dashes: on and off lengths in px, in turn.
void dashed(Picture& p, PicturePoint from, PicturePoint to, const std::vector<double>& pattern,
            const LineStyle& style) {
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0))
    return;
  const auto point = [&](double s) {
    return PicturePoint{from.x + (to.x - from.x) * s / length,
                        from.y + (to.y - from.y) * s / length};
  };
  double s = 0;
  for (std::size_t i = 0; s < length; ++i) {
    const double next = std::min(length, s + pattern[i % pattern.size()]);
    if (i % 2 == 0)
      p.line({point(s), point(next)}, style);
    s = next;
  }
}

void side_mark(Picture& p, PicturePoint at, const char* letter, bool dark, double u) {
  const double r = 24 * u;
  p.rectangle(at.x - r, at.y - r, 2 * r, 2 * r, dark ? kBlack : kWhite, 4 * u,
              dark ? kWhite : kBlack);
  p.text(letter, at.x, at.y + 11 * u, {32 * u, dark ? kWhite : kBlack, Align::centre, true, {}});
}

void contact_mark(Picture& p, PicturePoint at, bool upper, double u) {
  p.disc(at.x, at.y, 15 * u, upper ? kWhite : kBlack, 3.5 * u, upper ? kBlack : kWhite);
  const LineStyle stroke{4 * u, upper ? kBlack : kWhite};
  p.line({{at.x - 8 * u, at.y}, {at.x + 8 * u, at.y}}, stroke);
  if (upper)
    p.line({{at.x, at.y - 8 * u}, {at.x, at.y + 8 * u}}, stroke);
}

void peak_mark(Picture& p, PicturePoint at, bool high, double u) {
  const double s = high ? 1 : -1;
  for (const double grow : {1.35, 1.0})
    p.polygon({{at.x, at.y - s * 24 * u * grow},
               {at.x + 22 * u * grow, at.y + s * 15 * u * grow},
               {at.x - 22 * u * grow, at.y + s * 15 * u * grow}},
              (grow > 1) == high ? kBlack : kWhite);
}

const std::vector<double> kDashes{30, 16};
const std::vector<double> kDashDot{44, 12, 10, 12};

std::vector<double> scaled(std::vector<double> pattern, double u) {
  for (double& v : pattern)
    v *= u;
  return pattern;
}

} // namespace

HeightScale::HeightScale(double low_mm, double high_mm) : low_(low_mm), high_(high_mm) {
  const double range = high_ - low_;
  if (!(range > 1e-9))
    return;
  const double step = round_length(range / 4);
  decimals_ = std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, 6);
  for (double i = std::ceil(low_ / step + 1e-6); i * step < high_ - 1e-6 * step; i += 1)
    levels_.push_back(i * step);
}

Rgb HeightScale::colour(double height_mm) const {
  const double f = high_ > low_ ? (height_mm - low_) / (high_ - low_) : 0.5;
  return viridis()[static_cast<std::size_t>(std::lround(std::clamp(f, 0.0, 1.0) * 255))];
}

std::string HeightScale::text(double height_mm) const {
  const std::string text = fixed_text(height_mm, decimals_);
  return height_mm > 0 && text.find_first_not_of("0.") != std::string::npos
             ? fmt::format("+{}", text)
             : text;
}

std::vector<PicturePoint> BedOverlay::on_picture(const ContourLine& line) const {
  std::vector<PicturePoint> out;
  for (const GridPoint& q : line)
    out.push_back({at_.frame_left + q.x, at_.frame_top + q.y});
  return out;
}

bool BedOverlay::free(const Rect& box) const {
  const double edge = 4 * u_;
  return box.left >= at_.frame_left + edge && box.top >= at_.frame_top + edge &&
         box.right <= at_.frame_left + at_.frame_width - edge &&
         box.bottom <= at_.frame_top + at_.frame_height - edge &&
         std::ranges::none_of(taken_, [&](const Rect& o) {
           return box.left < o.right && o.left < box.right && box.top < o.bottom &&
                  o.top < box.bottom;
         });
}

void BedOverlay::take(PicturePoint p, double half_x, double half_y) {
  taken_.push_back({p.x - half_x, p.y - half_y, p.x + half_x, p.y + half_y});
}

void BedOverlay::label(PicturePoint p, const std::string& text) {
  const TextStyle style{28 * u_, kBlack, Align::centre, true, {}};
  const double half = p_.text_width(text, style) / 2 + 8 * u_;
  // Beside the mark, where there is room.
  for (const auto& [dx, dy] :
       {std::pair{half + 34 * u_, 0.0}, {-half - 34 * u_, 0.0}, {0.0, -52 * u_}, {0.0, 52 * u_}}) {
    const PicturePoint q{p.x + dx, p.y + dy};
    if (!free({q.x - half, q.y - 19 * u_, q.x + half, q.y + 19 * u_}))
      continue;
    p_.rectangle(q.x - half, q.y - 19 * u_, 2 * half, 38 * u_, kWhite, 2.5 * u_, kBlack);
    p_.text(text, q.x, q.y + 10 * u_, style);
    take(q, half, 19 * u_);
    return;
  }
}

void BedOverlay::readings(const BedMap& bed) {
  if (bed.points().size() > 900)
    return;
  for (const Vec3& r : bed.points()) {
    const PicturePoint p = at(r.x, r.y);
    p_.disc(p.x, p.y, 4.5 * u_, kBlack, 1.5 * u_, kWhite);
  }
}

void BedOverlay::contours(const std::vector<ContourLine>& lines) {
  for (const ContourLine& line : lines)
    p_.line(on_picture(line), {3 * u_, kBlack, 2 * u_, kWhite});
}

void BedOverlay::piece(const PieceOnBed& piece) {
  const auto corners = [&](const Footprint& f) {
    return std::vector{at(f.low.x, f.low.y), at(f.high.x, f.low.y), at(f.high.x, f.high.y),
                       at(f.low.x, f.high.y), at(f.low.x, f.low.y)};
  };
  const auto a = corners(piece.side_a), b = corners(piece.side_b);
  p_.line(a, {7 * u_, kBlack, 3 * u_, kWhite});
  for (std::size_t i = 0; i + 1 < b.size(); ++i) // white on black: seen where it lies on side A's
    dashed(p_, b[i], b[i + 1], scaled(kDashes, u_), {5 * u_, kWhite, 2.5 * u_, kBlack});
  const double x0 = at_.frame_left, x1 = x0 + at_.frame_width, y0 = at_.frame_top,
               y1 = y0 + at_.frame_height;
  const PicturePoint on = at(piece.line_at_mm, piece.line_at_mm);
  const LineStyle flip{5 * u_, kBlack, 3 * u_, kWhite};
  if (piece.line == FlipLine::along_y)
    dashed(p_, {on.x, y0}, {on.x, y1}, scaled(kDashDot, u_), flip);
  else
    dashed(p_, {x0, on.y}, {x1, on.y}, scaled(kDashDot, u_), flip);
  PicturePoint touch_a = at(piece.touch_a.x, piece.touch_a.y);
  PicturePoint touch_b = at(piece.touch_b.x, piece.touch_b.y);
  if (std::hypot(touch_a.x - touch_b.x, touch_a.y - touch_b.y) < 50 * u_) { // side by side
    touch_a.x -= 25 * u_;
    touch_b.x = touch_a.x + 50 * u_;
  }
  side_mark(p_, touch_a, "A", true, u_);
  side_mark(p_, touch_b, "B", false, u_);
  take(touch_a, 28 * u_, 28 * u_);
  take(touch_b, 28 * u_, 28 * u_);
}

void BedOverlay::contacts(const MinimumZone& zone) {
  for (const ZoneContact& c : zone.contacts) {
    const PicturePoint p = at(c.at.x, c.at.y);
    contact_mark(p_, p, c.upper, u_);
    take(p, 18 * u_, 18 * u_);
  }
}

void BedOverlay::extremes(const Flatness& f) {
  // Marks first, so that no number hides the other mark. Off the point, which a contact may share.
  const PicturePoint high = at(f.highest.x, f.highest.y), low = at(f.lowest.x, f.lowest.y);
  const double up = 36 * u_;
  const PicturePoint high_mark{high.x, high.y - up}, low_mark{low.x, low.y + up};
  peak_mark(p_, high_mark, true, u_);
  peak_mark(p_, low_mark, false, u_);
  take(high_mark, 30 * u_, 30 * u_);
  take(low_mark, 30 * u_, 30 * u_);
  label(high_mark, fixed_text(f.highest.z, 3));
  label(low_mark, fixed_text(f.lowest.z, 3));
}

void BedOverlay::contour_numbers(const std::vector<ContourLine>& lines, const std::string& text) {
  const TextStyle style{26 * u_, kBlack, Align::centre, true, {}};
  const double half = p_.text_width(text, style) / 2 + 7 * u_, half_y = 17 * u_;
  std::size_t written = 0;
  for (const ContourLine& line : lines) {
    if (written == 3 || static_cast<double>(line.size()) < 120 * u_)
      return;
    const std::vector<PicturePoint> points = on_picture(line);
    for (const double f : {0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875, 0.06, 0.94}) {
      const PicturePoint p =
          points[static_cast<std::size_t>(f * static_cast<double>(points.size() - 1))];
      if (!free({p.x - half, p.y - half_y, p.x + half, p.y + half_y}))
        continue;
      p_.rectangle(p.x - half, p.y - half_y, 2 * half, 2 * half_y, kWhite, 2 * u_, kBlack);
      p_.text(text, p.x, p.y + 9 * u_, style);
      take(p, half + 30 * u_, half_y + 14 * u_);
      ++written;
      break;
    }
  }
}

void draw_bed_title(Picture& picture, const HeatMapLayout& at, const std::string& title,
                    const std::string& note) {
  const double u = at.unit, x = 40 * u, room = at.width - 2 * x;
  const auto put = [&](const std::string& text, double y, double size, bool bold) {
    TextStyle style{size * u, kBlack, Align::left, bold, {}};
    const double width = picture.text_width(text, style);
    if (width > room)
      style.size = std::max(0.6 * style.size, style.size * room / width);
    picture.text(shorten_middle(printable(text),
                                [&](const std::string& shorter) {
                                  return picture.text_width(shorter, style) <= room * 1.0001;
                                }),
                 x, y, style);
  };
  put(title, at.title_y, 44, true);
  put(note, at.note_y, 30, false);
}

void draw_height_scale(Picture& picture, const HeatMapLayout& at, const HeightScale& scale,
                       bool inch) {
  const double u = at.unit;
  PixelImage bar{static_cast<int>(std::lround(at.scale_width)),
                 static_cast<int>(std::lround(at.scale_height)),
                 {}};
  const double range = scale.high_mm() - scale.low_mm();
  for (int y = 0; y < bar.height; ++y)
    for (int x = 0; x < bar.width; ++x)
      bar.pixels.push_back(scale.colour(scale.low_mm() + range * (x + 0.5) / bar.width));
  const double left = at.scale_left, top = at.scale_top;
  picture.image(bar, static_cast<int>(std::lround(left)), static_cast<int>(std::lround(top)));
  const double bottom = top + at.scale_height, right = left + bar.width;
  picture.line({{left, top}, {right, top}, {right, bottom}, {left, bottom}, {left, top}},
               {2.5 * u, kBlack});
  picture.text("Height of the bed in mm as the spindle sees it: dark is low, light is high", left,
               top - 22 * u, {30 * u, kBlack, Align::left, true, {}});
  for (const double level : scale.levels()) {
    const double x = left + bar.width * (level - scale.low_mm()) / range;
    picture.line({{x, top}, {x, bottom + 12 * u}}, {3 * u, kBlack, 1.5 * u, kWhite});
    picture.text(scale.text(level), x, bottom + 42 * u, {28 * u, kBlack, Align::centre, false, {}});
    if (inch)
      picture.text(inch_text(level) + " in", x, bottom + 80 * u,
                   {24 * u, kBlack, Align::centre, false, {}});
  }
}

void draw_bed_legend(Picture& picture, const HeatMapLayout& at, bool with_piece) {
  const double u = at.unit, column = (at.width - 80 * u) / 2;
  int n = 0;
  const auto entry = [&](const char* text) {
    const double x = 40 * u + column * (n % 2), y = at.legend_top + at.legend_pitch * (n / 2);
    ++n;
    picture.text(text, x + 96 * u, y + 32 * u, {28 * u, kBlack, Align::left, false, {}});
    return PicturePoint{x + 40 * u, y + 22 * u};
  };
  peak_mark(picture, entry("highest reading"), true, u);
  peak_mark(picture, entry("lowest reading"), false, u);
  contact_mark(picture, entry("upper contact of the minimum zone"), true, u);
  contact_mark(picture, entry("lower contact of the minimum zone"), false, u);
  if (!with_piece)
    return;
  const PicturePoint a = entry("board on side A");
  picture.line({{a.x - 40 * u, a.y}, {a.x + 40 * u, a.y}}, {7 * u, kBlack, 3 * u, kWhite});
  const PicturePoint b = entry("board turned over, side B");
  dashed(picture, {b.x - 40 * u, b.y}, {b.x + 40 * u, b.y}, scaled(kDashes, u),
         {5 * u, kWhite, 2.5 * u, kBlack});
  const PicturePoint touch = entry("touch points of side A and side B");
  side_mark(picture, {touch.x - 24 * u, touch.y}, "A", true, u * 0.8);
  side_mark(picture, {touch.x + 24 * u, touch.y}, "B", false, u * 0.8);
  const PicturePoint line = entry("flip line");
  dashed(picture, {line.x - 44 * u, line.y}, {line.x + 44 * u, line.y}, scaled(kDashDot, u),
         {5 * u, kBlack, 0, kWhite});
}

} // namespace leastwall
