#include "report/maps/heat_map_parts.h"

#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "base/units.h"
#include "report/draw/colour_map.h"
#include "report/draw/wall_pixels.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/verdict_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

struct BandLook {
  Rgb back, ink;
};

/// Backgrounds of different lightness; the word and the sign carry the meaning.
BandLook band_look(Verdict verdict) {
  switch (verdict) {
  case Verdict::safe:
    return {{222, 235, 247}, kBlack};
  case Verdict::at_risk:
    return {{255, 205, 60}, kBlack};
  case Verdict::thin:
    return {{140, 20, 20}, kWhite};
  case Verdict::cut_through:
    return {kBlack, kWhite};
  case Verdict::unproven:
    break;
  }
  return {{75, 42, 123}, kWhite};
}

/// A sign of its own shape for each verdict, about 100 units wide, its middle at (x, y).
void draw_sign(Picture& picture, Verdict verdict, double x, double y, double u, BandLook look) {
  const LineStyle stroke{14 * u, look.ink};
  switch (verdict) {
  case Verdict::safe: // a tick
    picture.line({{x - 44 * u, y + 2 * u}, {x - 12 * u, y + 38 * u}, {x + 48 * u, y - 40 * u}},
                 stroke);
    return;
  case Verdict::at_risk: // a warning triangle
    picture.polygon({{x, y - 52 * u}, {x + 60 * u, y + 50 * u}, {x - 60 * u, y + 50 * u}},
                    look.ink);
    picture.text("!", x, y + 38 * u, {76 * u, look.back, Align::centre, true, {}});
    return;
  case Verdict::thin: // two jaws close on a thin plate
    picture.polygon({{x - 26 * u, y - 56 * u}, {x + 26 * u, y - 56 * u}, {x, y - 10 * u}},
                    look.ink);
    picture.polygon({{x - 26 * u, y + 56 * u}, {x + 26 * u, y + 56 * u}, {x, y + 10 * u}},
                    look.ink);
    picture.rectangle(x - 58 * u, y - 4 * u, 116 * u, 8 * u, look.ink);
    return;
  case Verdict::cut_through: // a plate with a hole in it
    picture.rectangle(x - 60 * u, y - 13 * u, 120 * u, 26 * u, look.ink);
    picture.rectangle(x - 20 * u, y - 15 * u, 40 * u, 30 * u, look.back);
    picture.line({{x, y - 54 * u}, {x, y + 54 * u}}, {10 * u, look.ink});
    return;
  case Verdict::unproven: // a question
    break;
  }
  picture.text("?", x, y + 46 * u, {128 * u, look.ink, Align::centre, true, {}});
}

double clamped_size(const Picture& picture, const std::string& text, TextStyle style, double room) {
  const double width = picture.text_width(text, style);
  return width > room ? style.size * room / width : style.size;
}

int decimals_for(double step) {
  return std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, 6);
}

std::string limit_text(double limit_mm, bool inch) {
  const std::string text = short_number(limit_mm) + " mm";
  return inch ? fmt::format("{} in ({})", inch_text(limit_mm), text) : text;
}

} // namespace

std::string short_number(double value) {
  std::string text = fixed_text(value, 3);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.')
      text.pop_back();
  }
  return text;
}

void draw_band(Picture& picture, const HeatMapLayout& at, const CheckReport& report,
               const std::string& thinnest, bool inch) {
  const double u = at.unit;
  const BandLook look = band_look(shown_verdict(report));
  picture.rectangle(0, 0, at.width, at.band_height, look.back);
  draw_sign(picture, shown_verdict(report), 104 * u, at.band_height / 2, u, look);
  const auto wall = [&](double mm) { return LengthText{inch}.wall(mm, report.wall.limit_mm); };
  const WallReport::Least& least = report.wall.least_wall;
  const auto put = [&](const std::string& text, double y, double size, bool bold) {
    TextStyle style{size * u, look.ink, Align::left, bold, {}};
    style.size = clamped_size(picture, text, style, at.width - 236 * u);
    picture.text(text, 206 * u, y * u, style);
  };
  const std::string limit = limit_text(report.wall.limit_mm, inch);
  const Headline headline = verdict_headline(report);
  const bool bare = headline.ground.empty();
  put(headline.banner, bare ? 86 : 68, bare ? 76 : 62, true);
  if (!bare)
    put(headline.ground, 112, 36, true);
  put(least.expected_mm > 0
          ? fmt::format("least wall {}, at worst {}; limit {}", wall(least.expected_mm),
                        wall_or_hole_text(least.worst_mm, report.wall.limit_mm, inch), limit)
          : fmt::format("{}{} too deep; limit {}", least.may_be_deeper ? "at least " : "",
                        wall(-least.expected_mm), limit),
      bare ? 140 : 156, bare ? 38 : 34, true);
  const std::string place = inch ? place_text_inch(least.at) : place_text(least.at);
  put("thinnest at " + (thinnest.empty() ? place : thinnest), bare ? 190 : 197, bare ? 36 : 32,
      false);
}

void draw_title(Picture& picture, const HeatMapLayout& at, const MapTitle& words) {
  const double u = at.unit, x = 40 * u, room = at.width - 2 * x;
  TextStyle style{36 * u, kBlack, Align::left, true, {}};
  style.size = std::max(26 * u, clamped_size(picture, words.title, style, room));
  const std::string title =
      shorten_before(printable(words.title), printable(words.end), [&](const std::string& shorter) {
        return picture.text_width(shorter, style) <= room;
      });
  picture.text(title, x, at.title_y, style);
  TextStyle note{28 * u, kBlack, Align::left, false, {}};
  note.size = clamped_size(picture, words.view, note, room);
  picture.text(words.view, x, at.note_y, note);
}

void draw_axes(Picture& picture, const HeatMapLayout& at) {
  const double u = at.unit, left = at.frame_left, top = at.frame_top;
  const double right = left + at.frame_width, bottom = top + at.frame_height;
  picture.line({{left, top}, {right, top}, {right, bottom}, {left, bottom}, {left, top}},
               {2.5 * u, kBlack});
  const double unit_mm = millimetres_per(at.inch ? LengthUnit::inch : LengthUnit::mm);
  const int decimals = decimals_for(at.tick_step_mm / unit_mm);
  const auto each_tick = [&](double low_mm, double high_mm, const auto& draw) {
    const double first = std::ceil(low_mm / at.tick_step_mm - 1e-9);
    const double last = std::floor(high_mm / at.tick_step_mm + 1e-9);
    for (double i = first; i <= last; i += 1)
      draw(i * at.tick_step_mm, fixed_text(i * at.tick_step_mm / unit_mm, decimals));
  };
  const TextStyle number{28 * u, kBlack, Align::centre, false, {}};
  const TextStyle name{28 * u, kBlack, Align::right, true, {}};
  const std::string unit = at.inch ? ", in" : ", mm";
  const double name_width = picture.text_width("x" + unit, name) + 20 * u;
  each_tick(at.left_mm, at.left_mm + at.frame_width * at.mm_per_px,
            [&](double mm, const std::string& text) {
              const double x = at.px_x(mm), half = picture.text_width(text, number) / 2;
              picture.line({{x, bottom}, {x, bottom + 12 * u}}, {2.5 * u, kBlack});
              if (x + half < right - name_width) // the axis name stands at the right end
                picture.text(text, x, bottom + 42 * u, number);
            });
  each_tick(at.top_mm - at.frame_height * at.mm_per_px, at.top_mm,
            [&](double mm, const std::string& text) {
              const double y = at.px_y(mm);
              picture.line({{left - 12 * u, y}, {left, y}}, {2.5 * u, kBlack});
              TextStyle style = number;
              style.align = Align::right;
              style.size = clamped_size(picture, text, style, left - 26 * u);
              if (y - 10 * u > top + 30 * u) // the axis name stands at the upper end
                picture.text(text, left - 18 * u, y + 10 * u, style);
            });
  picture.text("x" + unit, right, bottom + 42 * u, name);
  picture.text("y" + unit, left - 18 * u, top + 24 * u, name);

  const double x = at.px_x(0), y = at.px_y(0);
  if (x < left + 4 * u || x > right - 4 * u || y < top + 4 * u || y > bottom - 4 * u)
    return;
  picture.clip(left, top, at.frame_width, at.frame_height);
  for (const double rim : {3.0, 0.0}) { // the second pass mends the crossing
    const LineStyle mark{4 * u, kBlack, rim * u, kWhite};
    picture.line({{x - 26 * u, y}, {x + 26 * u, y}}, mark);
    picture.line({{x, y - 26 * u}, {x, y + 26 * u}}, mark);
  }
  picture.text("0, 0", x + 12 * u, y + 36 * u, {26 * u, kBlack, Align::left, true, kWhite});
  picture.unclip();
}

void draw_scale_bar(Picture& picture, const HeatMapLayout& at) {
  const double u = at.unit, length = at.bar_mm / at.mm_per_px, tall = 20 * u;
  picture.rectangle(at.bar.x, at.bar.y - tall, length, tall, kBlack);
  picture.rectangle(at.bar.x + length / 2, at.bar.y - tall + 4 * u, length / 2 - 4 * u,
                    tall - 8 * u, kWhite);
  std::string text = short_number(at.bar_mm) + " mm";
  if (at.bar_mm < 0.001)
    text = fmt::format("{:g} mm", at.bar_mm);
  if (at.inch)
    text = short_number(at.bar_mm / kMillimetresPerInch) + " in = " + text;
  picture.text(text, at.bar.x + length + 22 * u, at.bar.y, {30 * u, kBlack, Align::left, true, {}});
}

void draw_colour_scale(Picture& picture, const HeatMapLayout& at, double limit_mm, bool inch) {
  const double u = at.unit;
  const int width = static_cast<int>(std::lround(at.scale_width));
  const int height = static_cast<int>(std::lround(at.scale_height));
  const int left = static_cast<int>(std::lround(at.scale_left));
  const int top = static_cast<int>(std::lround(at.scale_top));
  PixelImage strip{width, height, {}};
  strip.pixels.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      strip.pixels.push_back(
          viridis()[static_cast<std::size_t>(std::lround(255.0 * x / std::max(1, width - 1)))]);
  picture.image(strip, left, top);
  picture.line({{at.scale_left, at.scale_top},
                {at.scale_left + at.scale_width, at.scale_top},
                {at.scale_left + at.scale_width, at.scale_top + at.scale_height},
                {at.scale_left, at.scale_top + at.scale_height},
                {at.scale_left, at.scale_top}},
               {2.5 * u, kBlack});

  const double foot = at.scale_top + at.scale_height;
  constexpr std::array<double, 10> kTicks{0, 0.2, 0.4, 0.6, 0.8, 1, 1.5, 2, 2.5, 3};
  for (const double mm : kTicks) {
    const double x = at.scale_left + scale_place(mm) * at.scale_width;
    picture.line({{x, foot}, {x, foot + 10 * u}}, {2.5 * u, kBlack});
    picture.text(mm == kScaleTop_mm ? "3+ mm" : short_number(mm), x, foot + 40 * u,
                 {28 * u, kBlack, Align::centre, false, {}});
    if (inch)
      picture.text(fixed_text(mm / kMillimetresPerInch, 3) + (mm == kScaleTop_mm ? "+ in" : ""), x,
                   foot + 78 * u, {26 * u, kBlack, Align::centre, false, {}});
  }
  const double x = at.scale_left + scale_place(limit_mm) * at.scale_width;
  picture.line({{x, at.scale_top - 4 * u}, {x, foot}}, {5 * u, kBlack, 3 * u, kWhite});
  picture.polygon({{x, at.scale_top + 2 * u},
                   {x - 16 * u, at.scale_top - 24 * u},
                   {x + 16 * u, at.scale_top - 24 * u}},
                  kBlack);
  const std::string text = "limit " + limit_text(limit_mm, inch);
  const TextStyle style{30 * u, kBlack, Align::centre, true, {}};
  const double half = picture.text_width(text, style) / 2;
  picture.text(text, std::clamp(x, half + 20 * u, at.width - half - 20 * u), at.scale_top - 36 * u,
               style);
}

void draw_legend(Picture& picture, const HeatMapLayout& at, double limit_mm,
                 const LegendOptions& options) {
  const double u = at.unit;
  int entry = 0;
  const double swatch_w = 84 * u, swatch_h = 36 * u;
  const auto place = [&](const std::string& text) {
    const double x = at.frame_left + (entry % 2) * 730 * u - 84 * u;
    const double y = at.legend_top + (entry / 2) * at.legend_pitch;
    ++entry;
    TextStyle style{28 * u, kBlack, Align::left, false, {}};
    style.size = clamped_size(picture, text, style, 610 * u);
    picture.text(text, x + swatch_w + 20 * u, y + 28 * u, style);
    return PicturePoint{x, y};
  };
  const auto swatch = [&](WallZone zone, double mm, const std::string& text) {
    const PicturePoint p = place(text);
    const int x0 = static_cast<int>(std::lround(p.x)), y0 = static_cast<int>(std::lround(p.y));
    PixelImage image{static_cast<int>(swatch_w), static_cast<int>(swatch_h), {}};
    for (int y = 0; y < image.height; ++y)
      for (int x = 0; x < image.width; ++x)
        image.pixels.push_back(zone_pixel(zone, mm, x0 + x, y0 + y, u));
    picture.image(image, x0, y0);
    picture.line({{p.x, p.y},
                  {p.x + swatch_w, p.y},
                  {p.x + swatch_w, p.y + swatch_h},
                  {p.x, p.y + swatch_h},
                  {p.x, p.y}},
                 {2.5 * u, kBlack});
  };
  swatch(WallZone::thin, limit_mm * 0.75, options.wall + " under the limit");
  if (options.at_risk)
    swatch(WallZone::at_risk, limit_mm * 1.25, "may end under the limit (worst case)");
  swatch(WallZone::cut, 0, "cut through");
  swatch(WallZone::none, 0, "nothing measured");
  const PicturePoint contour = place("the limit, as a contour");
  picture.line(
      {{contour.x, contour.y + swatch_h / 2}, {contour.x + swatch_w, contour.y + swatch_h / 2}},
      {5 * u, kBlack, 3 * u, {200, 200, 200}});
  if (options.numbered > 0) {
    const char* unit = at.inch ? "in" : "mm";
    const PicturePoint p =
        place(options.dots > 0
                  ? fmt::format("thin place and its wall, {}; {} more as dots", unit, options.dots)
                  : fmt::format("thin place and its {}, {}", options.wall, unit));
    if (options.name.empty())
      picture.disc(p.x + swatch_w / 2, p.y + swatch_h / 2, 19 * u, kBlack);
    else
      picture.rectangle(p.x, p.y, swatch_w, swatch_h, kBlack);
    picture.text(options.name.empty() ? "1" : options.name, p.x + swatch_w / 2,
                 p.y + swatch_h / 2 + 10 * u, {28 * u, kWhite, Align::centre, true, {}});
  }
}

} // namespace leastwall
