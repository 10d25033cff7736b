#include "report/maps/board_map.h"

#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "report/draw/free_places.h"
#include "report/draw/rasterise_wall.h"
#include "report/maps/compose_map.h"
#include "report/maps/shop_map_marks.h"
#include "report/maps/side_marks.h"
#include "report/maps/wall_parts.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

constexpr int kShopRows = 5; // of the legend: walls and marks
constexpr std::size_t kNumbered = 12;

/// Several maps as one, seen from a side.
struct Joined {
  WallMap map;
  std::vector<double> expected_mm, worst_mm;
};

Joined joined(const BoardMapInput& input, Side side) {
  Joined out;
  for (const SkinOnBoard& skin : input.skins) {
    const WallMap seen = seen_from(skin.map, input.setup.flip, side);
    const auto samples = static_cast<std::uint32_t>(out.map.samples.size());
    const auto cells = static_cast<std::uint32_t>(out.map.cells.size());
    out.map.samples.insert(out.map.samples.end(), seen.samples.begin(), seen.samples.end());
    for (const Tri& cell : seen.cells)
      out.map.cells.push_back({cell[0] + samples, cell[1] + samples, cell[2] + samples});
    for (const WallMap::Minimum& m : seen.minima)
      out.map.minima.push_back({m.sample + samples, m.cell + cells});
    out.expected_mm.insert(out.expected_mm.end(), skin.expected_mm.begin(), skin.expected_mm.end());
    out.worst_mm.insert(out.worst_mm.end(), skin.worst_mm.begin(), skin.worst_mm.end());
  }
  return out;
}

std::vector<ShownPlace> places_of(const BoardMapInput& input, Side side) {
  std::vector<std::pair<double, ShownPlace>> places;
  for (const auto& [wall, number] : input.walls)
    for (std::size_t i = 0; i < wall->regions.size(); ++i) {
      RegionRow row = wall->regions[i];
      row.of_wall = number;
      row.of_place = i + 1;
      const Point2 p = side_place(input.setup.flip, side, Point2{row.at.x, row.at.y});
      places.push_back({row.least_wall_mm - wall->limit_mm,
                        {p.x, p.y, row.least_wall_mm, place_number(row, i)}});
    }
  std::ranges::stable_sort(places, {}, &std::pair<double, ShownPlace>::first);
  std::vector<ShownPlace> out;
  for (const auto& [spare, place] : places)
    out.push_back(place);
  return out;
}

/// What the names of places mean, by an example.
std::string places_line(const BoardMapInput& input) {
  for (const auto& [wall, number] : input.walls)
    if (!wall->regions.empty())
      return fmt::format("{0}-1: thin place 1 of wall {0}; walls are numbered as in the report.",
                         number);
  return {};
}

std::string board_title(const BoardMapInput& input) {
  return input.boards < 2
             ? input.report.title
             : fmt::format("Board {} of {}: {}", input.board + 1, input.boards, input.report.title);
}

/// Where the wall is least: it may lie on another board.
std::string thinnest_of(const BoardMapInput& input, Side side, bool inch) {
  if (input.board == input.thinnest_board)
    return thinnest_on(side, input.setup.flip, input.report, inch);
  const Vec3& at = input.report.wall.least_wall.at;
  return fmt::format("{} on board {}, side A up", inch ? place_text_inch(at) : place_text(at),
                     input.thinnest_board + 1);
}

SideMarks marks_of(const BoardMapInput& input, Side side) {
  std::vector<WallSample> samples;
  std::vector<std::size_t> of_parts;
  for (const SkinOnBoard& skin : input.skins) {
    samples.insert(samples.end(), skin.map.samples.begin(), skin.map.samples.end());
    of_parts.push_back(skin.map.samples.size());
  }
  SideMarks marks = side_marks(input.setup, input.report.box, side, samples, of_parts);
  marks.board_stated = marks.board_stated && input.board_stated;
  return marks;
}

HeatMapLayoutInput layout_of(const SideMarks& marks, const BoardMapOptions& options, int rows) {
  HeatMapLayoutInput layout;
  layout.width_px = options.width_px;
  layout.inch = options.inch;
  const Footprint all = marks.all();
  layout.also.add(Vec3{all.low.x, all.low.y, 0});
  layout.also.add(Vec3{all.high.x, all.high.y, 0});
  layout.legend_rows = rows;
  return layout;
}

/// What names must not hide.
FreePlaces kept_clear(const HeatMapLayout& at, const BoardMapInput& input, const SideMarks& marks,
                      Side side) {
  const double u = at.unit;
  const auto on = [&](Point2 p) { return PicturePoint{at.px_x(p.x), at.px_y(p.y)}; };
  FreePlaces free({at.frame_left + 6 * u, at.frame_top + 6 * u,
                   at.frame_left + at.frame_width - 6 * u, at.frame_top + at.frame_height - 6 * u});
  const auto mark = [&](Point2 p, double half) {
    const PicturePoint m = on(p);
    free.keep_clear(LabelBox{m.x - half, m.y - half, m.x + half, m.y + half});
  };
  for (const Point2& dowel : marks.dowels)
    mark(dowel, 26 * u);
  for (const HoleMark& hole : input.holes)
    mark(side_place(input.setup.flip, side, hole.at),
         std::max(12 * u, hole.diameter_mm / 2 / at.mm_per_px));
  if (marks.touch_place == TouchPlace::good)
    mark(marks.touch, 46 * u);
  free.keep_clear(on(marks.flip_from), on(marks.flip_to), 6 * u);
  if (marks.board_stated) {
    const Footprint& b = marks.board;
    const std::array<Point2, 5> corners{
        {b.low, {b.high.x, b.low.y}, b.high, {b.low.x, b.high.y}, b.low}};
    for (std::size_t i = 1; i < corners.size(); ++i)
      free.keep_clear(on(corners[i - 1]), on(corners[i]), 6 * u);
  }
  return free;
}

/// The name of each part at it, as much of it as has room where it hides nothing; and what is
/// drilled. `rim`: px round each part that are drawn on.
void draw_parts(Picture& picture, const HeatMapLayout& at, const BoardMapInput& input,
                const SideMarks& marks, Side side, double rim = 0) {
  const double u = at.unit;
  for (const HoleMark& hole : input.holes) {
    const Point2 p = side_place(input.setup.flip, side, hole.at);
    const double radius = std::max(7 * u, hole.diameter_mm / 2 / at.mm_per_px);
    picture.disc(at.px_x(p.x), at.px_y(p.y), radius, kWhite, 3 * u, kBlack);
  }
  FreePlaces free = kept_clear(at, input, marks, side);
  const TextStyle style{30 * u, kBlack, Align::left, true, kWhite};
  const double height = 36 * u;
  for (const PartMark& part : input.parts) {
    const Footprint box = side_place(input.setup.flip, side, part.box);
    const double left = at.px_x(box.low.x), right = at.px_x(box.high.x);
    const double top = at.px_y(box.high.y), bottom = at.px_y(box.low.y);
    const auto put = [&](double share) {
      const double room = std::max(right - left, 160 * u) * share;
      const std::string name =
          shorten_middle(printable(part.name), [&](const std::string& shorter) {
            return picture.text_width(shorter, style) <= room;
          });
      const double width = picture.text_width(name, style);
      for (const double x : {left, right - width})
        for (const double y : {top - rim - 6 * u - height, top + 4 * u, bottom - 4 * u - height,
                               bottom + rim + 6 * u}) {
          const LabelBox there{x, y, x + width, y + height};
          if (!free.clear(there))
            continue;
          free.keep_clear(there);
          picture.text(name, x, y + height - 9 * u, style);
          return true;
        }
      return false;
    };
    for (const double share : {1.0, 0.75, 0.55, 0.47, 0.4, 0.3})
      if (put(share))
        break;
  }
}

std::string holes_line(std::span<const HoleMark> holes) {
  std::vector<std::string> names;
  for (const HoleMark& hole : holes)
    if (std::ranges::find(names, hole.name) == names.end())
      names.push_back(hole.name);
  return fmt::format("Circles on the parts: drilled holes ({}).", fmt::join(names, ", "));
}

void text_line(Picture& picture, const HeatMapLayout& at, const std::string& words, int row) {
  const double u = at.unit, left = at.frame_left - 84 * u;
  TextStyle style{28 * u, kBlack, Align::left, false, {}};
  style.size *= std::min(1.0, (at.width - left - 30 * u) / picture.text_width(words, style));
  picture.text(words, left, at.legend_top + row * at.legend_pitch + 30 * u, style);
}

/// The largest limit of the skins, and what is said of it where they differ.
std::pair<double, std::string> largest_limit(const BoardMapInput& input, bool inch) {
  double least = input.skins.front().wall.limit_mm, most = least;
  for (const SkinOnBoard& skin : input.skins) {
    least = std::min(least, skin.wall.limit_mm);
    most = std::max(most, skin.wall.limit_mm);
  }
  return {most, least == most ? std::string()
                              : fmt::format(" Hatched: under {}, the largest limit of these skins.",
                                            LengthText{inch}.length(most))};
}

} // namespace

std::string draw_board_map(const BoardMapInput& input, const BoardMapOptions& options) {
  const Joined skins = joined(input, options.machine);
  const auto [limit_mm, about_limit] = largest_limit(input, options.inch);
  const SideMarks marks = marks_of(input, options.machine);
  std::vector<std::string> lines(input.steps.begin(), input.steps.end());
  if (!input.holes.empty())
    lines.push_back(holes_line(input.holes));
  if (std::string places = places_line(input); !places.empty())
    lines.push_back(std::move(places));
  MapSpec spec;
  spec.title = board_title(input);
  spec.thinnest = thinnest_of(input, options.machine, options.inch);
  spec.view = machine_view(options.machine) + about_limit;
  spec.layout = layout_of(marks, options, kShopRows + static_cast<int>(lines.size()));
  spec.places = places_of(input, options.machine);
  spec.numbered = kNumbered;
  spec.layout.callouts = std::min(kNumbered, spec.places.size());
  spec.shown_mm = skins.expected_mm;
  spec.risk_mm = skins.worst_mm;
  spec.limit_mm = limit_mm;
  spec.marks = [&](Picture& picture, const HeatMapLayout& at) {
    draw_shop_marks(picture, at, marks);
    draw_parts(picture, at, input, marks, options.machine);
  };
  spec.marks_legend = [&](Picture& picture, const HeatMapLayout& at) {
    draw_marks_legend(picture, at, marks, input.flip_stated, at.legend_top + 3 * at.legend_pitch);
    for (std::size_t i = 0; i < lines.size(); ++i)
      text_line(picture, at, lines[i], kShopRows + static_cast<int>(i));
  };
  return compose_map(skins.map, input.report, spec);
}

namespace {

/// Grey where a part lies.
void draw_silhouettes(Picture& picture, const HeatMapLayout& at, const Joined& skins) {
  constexpr Rgb kPart{214, 210, 203};
  WallGrid grid = frame_of(at);
  rasterise_wall(skins.map, skins.expected_mm, grid);
  PixelImage image{grid.width, grid.height, {}};
  image.pixels.reserve(grid.value.size());
  for (const double wall : grid.value)
    image.pixels.push_back(std::isnan(wall) ? kWhite : kPart);
  picture.image(image, at.frame_left, at.frame_top);
}

/// How many times as large a step is drawn: 1, 2 or 5 times a power of ten.
double enlarged(const SeamRow& seam, const HeatMapLayout& at) {
  constexpr double kWidest_px = 60;
  return seam.worst_mm > 0
             ? std::max(1.0, round_length(kWidest_px * at.unit * at.mm_per_px / seam.worst_mm))
             : 1;
}

void draw_bands(Picture& picture, const HeatMapLayout& at, const SeamRow& seam) {
  constexpr Rgb kBand{150, 30, 10};
  const double times = enlarged(seam, at);
  const auto band = [&](Point2 p, Point2 n, double half, double step) {
    const auto corner = [&](double along, double out) {
      return PicturePoint{at.px_x(p.x - n.y * along + n.x * out),
                          at.px_y(p.y + n.x * along + n.y * out)};
    };
    const double wide = times * step;
    picture.polygon({corner(-half, 0), corner(half, 0), corner(half, wide), corner(-half, wide)},
                    kBand);
    picture.line({corner(-half, 0), corner(half, 0)}, {3 * at.unit, kBlack});
  };
  for (const SeamPlace& place : seam.places) {
    band(place.at, place.across, place.length_mm / 2, place.worst_mm);
    if (seam.board == seam.other_board)
      band(place.at_other, place.across_other, place.length_mm / 2, place.worst_mm);
  }
  const auto ring = [&](Point2 p) {
    picture.disc(at.px_x(p.x), at.px_y(p.y), 14 * at.unit, kWhite, 5 * at.unit, kBlack);
  };
  if (!(seam.worst_mm > 0))
    return;
  ring(seam.largest.at);
  if (seam.board == seam.other_board)
    ring(seam.largest.at_other);
}

} // namespace

std::string draw_seam_map(const BoardMapInput& input, const SeamRow& seam,
                          const BoardMapOptions& options) {
  const Joined skins = joined(input, Side::a);
  const SideMarks marks = marks_of(input, Side::a);
  const LengthText words{options.inch};
  MapSpec spec;
  spec.title = fmt::format("The seam: {} on {}", seam.part, seam.with);
  spec.thinnest = thinnest_of(input, Side::a, options.inch);
  spec.view = machine_view(Side::a);
  constexpr int kRows = 4;
  spec.layout = layout_of(marks, options, kRows);
  spec.layout.colour_scale = false;
  spec.field = [&](Picture& picture, const HeatMapLayout& at) {
    draw_silhouettes(picture, at, skins);
    draw_bands(picture, at, seam);
  };
  spec.marks = [&](Picture& picture, const HeatMapLayout& at) {
    draw_shop_marks(picture, at, marks);
    draw_parts(picture, at, input, marks, Side::a,
               enlarged(seam, at) * seam.worst_mm / at.mm_per_px);
  };
  spec.field_legend = [&](Picture& picture, const HeatMapLayout& at) {
    text_line(picture, at,
              fmt::format("Step between the outer faces when glued: at worst {}, ring: where.",
                          words.length(seam.worst_mm)),
              0);
    text_line(picture, at,
              fmt::format("In 19 of 20 pieces no more than {} anywhere; known beforehand: {}.",
                          words.length(seam.in_19_of_20_mm), words.length(seam.expected_mm)),
              1);
    if (seam.worst_mm > 0)
      text_line(
          picture, at,
          fmt::format("Dark band: the step at worst along the rim, {:.0f} times as wide as it "
                      "is.{}",
                      enlarged(seam, at),
                      seam.board == seam.other_board
                          ? ""
                          : fmt::format(" Board {}; the other half is on board {}.", seam.board + 1,
                                        seam.other_board + 1)),
          2);
    text_line(picture, at, holes_line(input.holes), 3);
  };
  return compose_map(skins.map, input.report, spec);
}

} // namespace leastwall
