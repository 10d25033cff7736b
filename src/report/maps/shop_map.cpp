#include "report/maps/shop_map.h"

#include "base/errors.h"
#include "report/maps/cause_grid.h"
#include "report/maps/compose_map.h"
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

/// What sets a kind of map apart.
struct KindOfMap {
  ShopMapKind kind;
  const char* view; ///< of the piece alone; {} is the unit of the walls
  const char* wall; ///< what the colours show
  std::vector<double> (*values)(const ShopMapInput& input);
  double (*of_region)(const RegionRow& row); ///< wall at a thin place; absent: as drawn
};

std::vector<double> drawn_walls(const ShopMapInput& input) {
  std::vector<double> walls;
  walls.reserve(input.skin.samples.size());
  for (const WallSample& s : input.skin.samples)
    walls.push_back(s.wall_mm);
  return walls;
}

const KindOfMap& kind_of_map(ShopMapKind kind) {
  static constexpr auto expected = [](const ShopMapInput& in) { return in.budget.expected_mm; };
  static constexpr auto least = [](const RegionRow& row) { return row.least_wall_mm; };
  static const std::array<KindOfMap, 4> kinds{{
      {ShopMapKind::design, "Wall as drawn, in {}", "wall as drawn", drawn_walls, nullptr},
      {ShopMapKind::expected, "Expected wall, in {}", "expected wall", expected, least},
      {ShopMapKind::worst, "Wall at worst, all errors at their limits, in {}", "wall at worst",
       [](const ShopMapInput& in) { return in.budget.worst_mm; },
       [](const RegionRow& row) { return row.worst_mm; }},
      {ShopMapKind::causes, "Which cause thins the wall most here", "", expected, least},
  }};
  return *std::ranges::find(kinds, kind, &KindOfMap::kind);
}

std::string view_text(const ShopMapOptions& options) {
  if (options.machine)
    return machine_view(*options.machine);
  return fmt::format(fmt::runtime(kind_of_map(options.kind).view), options.inch ? "inches" : "mm") +
         ", seen from the pocket side: x to the right, y up.";
}

std::vector<ShownPlace> shown_places(const ShopMapInput& input, const ShopMapOptions& options) {
  const auto of_region = kind_of_map(options.kind).of_region;
  std::map<std::array<double, 3>, double> drawn;
  if (of_region == nullptr) {
    for (const RegionRow& row : input.report.wall.regions)
      drawn[{row.at.x, row.at.y, row.at.z}] = row.least_wall_mm;
    for (const WallSample& s : input.skin.samples)
      if (const auto found = drawn.find({s.at.x, s.at.y, s.at.z}); found != drawn.end())
        found->second = s.wall_mm;
  }
  std::vector<ShownPlace> out;
  for (const RegionRow& row : input.report.wall.regions) {
    const Point2 p = side_place(input.setup.flip, side_of(options), Point2{row.at.x, row.at.y});
    out.push_back(
        {p.x, p.y,
         of_region != nullptr ? of_region(row) : drawn.at({row.at.x, row.at.y, row.at.z})});
  }
  return out;
}

HeatMapLayoutInput layout_of(const WallMap& seen, const ShopMapInput& input,
                             const ShopMapOptions& options) {
  HeatMapLayoutInput wanted;
  wanted.width_px = options.width_px;
  wanted.callouts = std::min(options.numbered, input.report.wall.regions.size());
  wanted.inch = options.inch;
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
  return wanted;
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
  const WallMap seen = seen_from(input.skin, input.setup.flip, side_of(options));
  return heat_map_layout(seen, layout_of(seen, input, options));
}

std::string draw_shop_map(const ShopMapInput& input, const ShopMapOptions& options) {
  const std::size_t count = input.skin.samples.size();
  if (input.budget.expected_mm.size() != count || input.budget.worst_mm.size() != count)
    throw RunError("map: the number of walls differs from the number of samples; please keep the "
                   "meshes and report it as a fault of leastwall");
  const WallMap seen = seen_from(input.skin, input.setup.flip, side_of(options));
  const KindOfMap& kind = kind_of_map(options.kind);
  const std::vector<double> walls = kind.values(input);
  MapSpec spec;
  spec.title = input.report.title;
  spec.view = view_text(options);
  spec.layout = layout_of(seen, input, options);
  spec.places = shown_places(input, options);
  spec.numbered = options.numbered;
  spec.shown_mm = walls;
  spec.wall = kind.wall;
  if (options.machine && options.kind == ShopMapKind::expected)
    spec.risk_mm = input.budget.worst_mm;
  if (options.kind == ShopMapKind::causes) {
    spec.field = [&](Picture& picture, const HeatMapLayout& at) {
      const CauseGrid causes =
          cause_grid(seen, input.budget, rank_causes(seen, input.budget), frame_of(at));
      draw_causes(picture, at, causes);
      draw_cause_letters(picture, at, causes);
    };
    spec.field_legend = [&](Picture& picture, const HeatMapLayout& at) {
      draw_cause_legend(picture, at, rank_causes(seen, input.budget));
    };
  }
  if (options.machine) {
    const SideMarks marks =
        side_marks(input.setup, input.report.box, *options.machine, input.skin.samples);
    spec.marks = [marks](Picture& picture, const HeatMapLayout& at) {
      draw_shop_marks(picture, at, marks);
    };
    if (!spec.field_legend)
      spec.marks_legend = [marks, &input](Picture& picture, const HeatMapLayout& at) {
        draw_marks_legend(picture, at, marks, input.flip_stated,
                          at.legend_top + 3 * at.legend_pitch);
      };
  }
  return compose_map(seen, input.report, spec);
}

} // namespace leastwall
