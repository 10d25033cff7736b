#include "report/maps/shop_map.h"

#include "base/errors.h"
#include "report/maps/cause_grid.h"
#include "report/maps/compose_map.h"
#include "report/maps/shop_map_marks.h"
#include "report/maps/side_marks.h"
#include "report/maps/wall_parts.h"
#include "report/words/length_text.h"

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

/// Where one cause rules nearly everywhere, a map of who rules says nothing: how much errors take
/// is shown in its place.
constexpr double kRules = 0.9; // of the skin
constexpr int kShades = 5;

bool one_rules(const CauseRanking& causes) {
  return !causes.shown.empty() && causes.shown.front().share >= kRules;
}

/// What the stated errors may take of the expected wall, mm, of each sample.
std::vector<double> taken_walls(const Budget& budget) {
  std::vector<double> taken;
  taken.reserve(budget.expected_mm.size());
  for (std::size_t i = 0; i < budget.expected_mm.size(); ++i)
    taken.push_back(budget.expected_mm[i] - budget.worst_mm[i]);
  return taken;
}

/// Equal steps from the least to the most that is taken.
struct Shades {
  double least_mm = 0, step_mm = 0;
  explicit Shades(const std::vector<double>& taken) {
    const auto [low, high] = std::ranges::minmax(taken);
    least_mm = low;
    step_mm = (high - low) / kShades;
  }
  int of(double taken_mm) const {
    if (!(step_mm > 0))
      return 0;
    return std::clamp(static_cast<int>((taken_mm - least_mm) / step_mm), 0, kShades - 1);
  }
  double from_mm(int shade) const { return least_mm + shade * step_mm; }
  /// The more is taken, the darker; told apart in grey.
  static Rgb colour(int shade) {
    constexpr Rgb all[kShades] = {
        {253, 231, 190}, {248, 200, 130}, {226, 146, 84}, {176, 92, 60}, {106, 44, 44}};
    return all[shade];
  }
};

std::string view_text(const ShopMapOptions& options, const CauseRanking* ruled) {
  if (options.machine)
    return machine_view(*options.machine);
  if (ruled != nullptr)
    return fmt::format(
        "Colours: what errors may take at worst, most of it {}. Numbers: expected wall.",
        ruled->shown.front().name);
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
    const CauseRanking causes = rank_causes(seen, input.budget);
    wanted.legend_rows = one_rules(causes) ? kShades : causes.entries();
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

void draw_taken(Picture& picture, const HeatMapLayout& at, const WallMap& seen,
                const std::vector<double>& taken) {
  WallGrid grid = frame_of(at);
  rasterise_wall(seen, taken, grid);
  const Shades shades(taken);
  PixelImage image{grid.width, grid.height, {}};
  image.pixels.reserve(grid.value.size());
  const auto shade_at = [&](std::size_t i) {
    return std::isnan(grid.value[i]) ? -1 : shades.of(grid.value[i]);
  };
  for (int y = 0; y < grid.height; ++y)
    for (int x = 0; x < grid.width; ++x) {
      const std::size_t w = static_cast<std::size_t>(grid.width);
      const std::size_t i = static_cast<std::size_t>(y) * w + static_cast<std::size_t>(x);
      const int shade = shade_at(i);
      const bool edge = (x > 0 && shade_at(i - 1) != shade) || (y > 0 && shade_at(i - w) != shade);
      image.pixels.push_back(edge         ? kBlack
                             : shade >= 0 ? Shades::colour(shade)
                                          : cause_pixel(kNotMeasuredStyle, x, y, at.unit));
    }
  picture.image(image, at.frame_left, at.frame_top);
}

void draw_taken_legend(Picture& picture, const HeatMapLayout& at, const std::vector<double>& taken,
                       bool inch) {
  const double u = at.unit;
  const Shades shades(taken);
  const LengthText words{inch};
  for (int shade = 0; shade < kShades; ++shade) {
    const double left = at.frame_left - 84 * u, top = at.legend_top + shade * at.legend_pitch;
    picture.rectangle(left, top, 150 * u, 40 * u, Shades::colour(shade), 2.5 * u, kBlack);
    picture.text(fmt::format("{} to {}", words.number(shades.from_mm(shade)),
                             words.length(shades.from_mm(shade + 1))),
                 left + 170 * u, top + 30 * u, {30 * u, kBlack, Align::left, false, {}});
  }
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
  if (input.report.one_of)
    spec.title_end = ", " + input.report.one_of->wall;
  const CauseRanking causes =
      options.kind == ShopMapKind::causes ? rank_causes(seen, input.budget) : CauseRanking();
  const bool ruled = one_rules(causes);
  spec.view = view_text(options, ruled ? &causes : nullptr);
  spec.layout = layout_of(seen, input, options);
  spec.places = shown_places(input, options);
  if (options.machine)
    spec.thinnest = thinnest_on(*options.machine, input.setup.flip, input.report, options.inch);
  spec.numbered = options.numbered;
  spec.shown_mm = walls;
  spec.wall = kind.wall;
  if (options.machine && options.kind == ShopMapKind::expected)
    spec.risk_mm = input.budget.worst_mm;
  const std::vector<double> taken = ruled ? taken_walls(input.budget) : std::vector<double>();
  if (ruled) {
    spec.field = [&](Picture& picture, const HeatMapLayout& at) {
      draw_taken(picture, at, seen, taken);
    };
    spec.field_legend = [&](Picture& picture, const HeatMapLayout& at) {
      draw_taken_legend(picture, at, taken, options.inch);
    };
  } else if (options.kind == ShopMapKind::causes) {
    spec.field = [&](Picture& picture, const HeatMapLayout& at) {
      const CauseGrid grid = cause_grid(seen, input.budget, causes, frame_of(at));
      draw_causes(picture, at, grid);
      draw_cause_letters(picture, at, grid);
    };
    spec.field_legend = [&](Picture& picture, const HeatMapLayout& at) {
      draw_cause_legend(picture, at, causes);
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
