#include "report/maps/shop_map.h"

#include "base/errors.h"
#include "report/maps/cause_grid.h"
#include "report/maps/heat_map_overlay.h"
#include "report/maps/heat_map_parts.h"
#include "report/maps/shop_map_marks.h"
#include "report/maps/side_marks.h"
#include "report/maps/wall_parts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace leastwall {
namespace {

Side side_of(const ShopMapOptions& options) {
  return options.machine.value_or(Side::a);
}

std::string view_text(const ShopMapOptions& options) {
  if (options.machine)
    return fmt::format("Side {} as seen at the machine: {} up, X to the right, Y away from you. "
                       "True to scale.",
                       *options.machine == Side::a ? "A" : "B",
                       *options.machine == Side::a ? "pocket face" : "skin face");
  const std::string unit = options.inch ? "inches" : "mm";
  const std::string from = ", seen from the pocket side: x to the right, y up.";
  switch (options.kind) {
  case ShopMapKind::design:
    return "Wall as drawn, in " + unit + from;
  case ShopMapKind::expected:
    return "Expected wall, in " + unit + from;
  case ShopMapKind::worst:
    return "Wall at worst, all errors at their limits, in " + unit + from;
  case ShopMapKind::causes:
    break;
  }
  return "Which cause thins the wall most here" + from;
}

/// What the colours show, one value a sample.
std::vector<double> shown_values(const ShopMapInput& input, ShopMapKind kind) {
  if (kind == ShopMapKind::worst)
    return input.budget.worst_mm;
  if (kind != ShopMapKind::design)
    return input.budget.expected_mm;
  std::vector<double> design;
  design.reserve(input.skin.samples.size());
  for (const WallSample& s : input.skin.samples)
    design.push_back(s.wall_mm);
  return design;
}

std::vector<ShownPlace> shown_places(const ShopMapInput& input, const ShopMapOptions& options) {
  std::map<std::array<double, 3>, double> design;
  if (options.kind == ShopMapKind::design) {
    for (const RegionRow& row : input.report.regions)
      design[{row.at.x, row.at.y, row.at.z}] = row.least_wall_mm;
    for (const WallSample& s : input.skin.samples)
      if (const auto found = design.find({s.at.x, s.at.y, s.at.z}); found != design.end())
        found->second = s.wall_mm;
  }
  std::vector<ShownPlace> out;
  for (const RegionRow& row : input.report.regions) {
    const Point2 p = side_place(input.setup.flip, side_of(options), Point2{row.at.x, row.at.y});
    double wall = row.least_wall_mm;
    if (options.kind == ShopMapKind::worst)
      wall = row.worst_mm;
    else if (options.kind == ShopMapKind::design)
      wall = design.at({row.at.x, row.at.y, row.at.z});
    out.push_back({p.x, p.y, wall});
  }
  return out;
}

HeatMapLayout layout_of(const WallMap& seen, const ShopMapInput& input,
                        const ShopMapOptions& options) {
  HeatMapLayoutInput wanted{options.width_px,
                            std::min(options.numbered, input.report.regions.size()),
                            3,
                            options.inch,
                            {},
                            true};
  if (options.machine) {
    const Footprint all =
        side_marks(input.setup, input.report.box, *options.machine, input.skin.samples).all();
    wanted.also.add(Vec3{all.low.x, all.low.y, 0});
    wanted.also.add(Vec3{all.high.x, all.high.y, 0});
    wanted.legend_rows = 5;
  }
  if (options.kind == ShopMapKind::causes) {
    wanted.colour_scale = false;
    wanted.legend_rows = rank_causes(seen, input.budget).entries();
  }
  return heat_map_layout(seen, wanted);
}

std::string letter(std::size_t style) {
  return std::string(1, static_cast<char>('a' + style));
}

void draw_letter(Picture& picture, const std::string& text, PicturePoint p, double u) {
  picture.disc(p.x, p.y, 22 * u, kWhite, 3 * u, kBlack);
  picture.text(text, p.x, p.y + 9 * u, {30 * u, kBlack, Align::centre, true, {}});
}

void draw_causes(Picture& picture, const HeatMapLayout& at, const CauseGrid& grid) {
  const double u = at.unit;
  PixelImage image{grid.width, grid.height, {}};
  image.pixels.reserve(grid.style.size());
  for (int y = 0; y < grid.height; ++y)
    for (int x = 0; x < grid.width; ++x) {
      const std::size_t i = static_cast<std::size_t>(y) * static_cast<std::size_t>(grid.width) +
                            static_cast<std::size_t>(x);
      const bool edge =
          (x > 0 && grid.style[i - 1] != grid.style[i]) ||
          (y > 0 && grid.style[i - static_cast<std::size_t>(grid.width)] != grid.style[i]);
      image.pixels.push_back(edge ? kBlack : cause_pixel(grid.style[i], x, y, u));
    }
  picture.image(image, at.frame_left, at.frame_top);
}

void draw_cause_letters(Picture& picture, const HeatMapLayout& at, const CauseGrid& grid) {
  const auto places = letter_places(grid, static_cast<int>(std::lround(26 * at.unit)));
  for (std::size_t style = 0; style < places.size(); ++style)
    if (places[style])
      draw_letter(picture, letter(style),
                  {at.frame_left + places[style]->x, at.frame_top + places[style]->y}, at.unit);
}

void draw_cause_legend(Picture& picture, const HeatMapLayout& at, const CauseRanking& causes) {
  const double u = at.unit;
  int row = 0;
  const auto entry = [&](std::size_t style, const std::string& name, double share) {
    const int left = at.frame_left - static_cast<int>(std::lround(84 * u));
    const int top = static_cast<int>(std::lround(at.legend_top + row++ * at.legend_pitch));
    PixelImage image{
        static_cast<int>(std::lround(150 * u)), static_cast<int>(std::lround(40 * u)), {}};
    for (int y = 0; y < image.height; ++y)
      for (int x = 0; x < image.width; ++x)
        image.pixels.push_back(cause_pixel(style, left + x, top + y, u));
    picture.image(image, left, top);
    const double w = image.width, h = image.height;
    picture.line({{left + 0.0, top + 0.0},
                  {left + w, top + 0.0},
                  {left + w, top + h},
                  {left + 0.0, top + h},
                  {left + 0.0, top + 0.0}},
                 {2.5 * u, kBlack});
    if (style <= kOtherCauses)
      draw_letter(picture, letter(style), {left + w / 2, top + h / 2}, u * 0.85);
    const std::string percent =
        share >= 0.005 ? fmt::format("{:.0f} % of the skin", share * 100) : "under 1 % of the skin";
    TextStyle style_of_text{30 * u, kBlack, Align::left, false, {}};
    const std::string text = fmt::format("{} ({})", name, percent);
    const double room = at.width - left - w - 40 * u;
    style_of_text.size *= std::min(1.0, room / picture.text_width(text, style_of_text));
    picture.text(text, left + w + 20 * u, top + 30 * u, style_of_text);
  };
  for (std::size_t i = 0; i < causes.shown.size(); ++i)
    entry(i, causes.shown[i].name, causes.shown[i].share);
  if (causes.other_share > 0)
    entry(kOtherCauses, "all other causes", causes.other_share);
  if (causes.none_share > 0)
    entry(kNoCauseStyle, "no stated error thins it here", causes.none_share);
}

} // namespace

HeatMapLayout shop_map_layout_of(const ShopMapInput& input, const ShopMapOptions& options) {
  return layout_of(seen_from(input.skin, input.setup.flip, side_of(options)), input, options);
}

std::string draw_shop_map(const ShopMapInput& input, const ShopMapOptions& options) {
  const std::size_t count = input.skin.samples.size();
  if (input.budget.expected_mm.size() != count || input.budget.worst_mm.size() != count)
    throw RunError("map: the number of walls differs from the number of samples; please keep the "
                   "meshes and report it as a fault of leastwall");
  const CheckReport& report = input.report;
  const WallMap seen = seen_from(input.skin, input.setup.flip, side_of(options));
  const HeatMapLayout at = layout_of(seen, input, options);
  Picture picture(at.width, at.height);
  HeatMapOverlay overlay(picture, at, shown_places(input, options), report.limit_mm,
                         options.numbered);
  if (options.kind == ShopMapKind::causes) {
    const CauseGrid causes =
        cause_grid(seen, input.budget, rank_causes(seen, input.budget), frame_of(at));
    draw_causes(picture, at, causes);
    draw_cause_letters(picture, at, causes);
  } else {
    const bool risk = options.machine.has_value() && options.kind == ShopMapKind::expected;
    const WallParts parts = wall_parts(seen, shown_values(input, options.kind),
                                       risk ? std::span<const double>(input.budget.worst_mm)
                                            : std::span<const double>(),
                                       at, report.limit_mm);
    picture.image(parts.pixels, at.frame_left, at.frame_top);
    picture.clip(at.frame_left, at.frame_top, at.frame_width, at.frame_height);
    if (risk)
      overlay.risk_edge(parts.worst_lines);
    overlay.contours(parts.shown_lines);
    picture.unclip();
  }
  const SideMarks marks = side_marks(input.setup, report.box, side_of(options), input.skin.samples);
  if (options.machine)
    draw_shop_marks(picture, at, marks);
  draw_axes(picture, at);
  overlay.places();
  draw_band(picture, at, report, options.inch);
  draw_title(picture, at, report.title, view_text(options));
  draw_scale_bar(picture, at);
  if (options.kind == ShopMapKind::causes) {
    draw_cause_legend(picture, at, rank_causes(seen, input.budget));
    return picture.png();
  }
  draw_colour_scale(picture, at, report.limit_mm, options.inch);
  LegendOptions legend;
  legend.at_risk = options.machine.has_value() && options.kind == ShopMapKind::expected;
  legend.numbered = overlay.numbered();
  legend.dots = report.regions.size() - overlay.numbered();
  legend.wall = options.kind == ShopMapKind::design  ? "wall as drawn"
                : options.kind == ShopMapKind::worst ? "wall at worst"
                                                     : "expected wall";
  draw_legend(picture, at, report.limit_mm, legend);
  if (options.machine)
    draw_marks_legend(picture, at, marks, input.flip_stated, at.legend_top + 3 * at.legend_pitch);
  return picture.png();
}

} // namespace leastwall
