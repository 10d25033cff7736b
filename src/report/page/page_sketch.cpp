#include "report/page/page_sketch.h"

#include "budget/effects/verdict.h"
#include "report/draw/colour_map.h"
#include "report/draw/rasterise_wall.h"
#include "report/words/number_text.h"
#include "space/box.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

constexpr int kSide = 240; // pixels of the longer side
constexpr int kEdge = 9, kFoot = 27;
constexpr int kColours = 16;
constexpr int kClose = 3, kWide = 6; // one pixel in so many along a row is black
constexpr std::size_t kMostPlaces = 12;

std::string colour_text(int step) {
  return colour_code(viridis()[static_cast<std::size_t>(step * 255 / (kColours - 1))]);
}

/// Runs of pixels of each colour as one path a colour, the last one black.
class Runs {
 public:
  void add(std::size_t colour, int from, int to, int row) {
    std::string& path = paths_[colour];
    if (rows_[colour] == row)
      path += fmt::format("m{} 0", from - ends_[colour]);
    else
      path += fmt::format("M{} {}", from, row);
    path += fmt::format("h{}", to - from);
    rows_[colour] = row;
    ends_[colour] = to;
  }
  std::string svg() const {
    std::string out;
    for (int i = 0; i <= kColours; ++i)
      if (const std::string& path = paths_[static_cast<std::size_t>(i)]; !path.empty())
        out += fmt::format("<path stroke=\"{}\" d=\"{}\"/>\n",
                           i < kColours ? colour_text(i) : "#000", path);
    return out;
  }

 private:
  std::array<std::string, kColours + 1> paths_;
  std::array<int, kColours + 1> rows_ = filled(-1), ends_ = filled(0);
  static std::array<int, kColours + 1> filled(int value) {
    std::array<int, kColours + 1> out{};
    out.fill(value);
    return out;
  }
};

/// Which path a pixel belongs to; kColours is black, -1 none.
int path_of(double expected, double worst, double limit, int x, int y) {
  if (std::isnan(expected))
    return -1;
  if (expected <= 0 || (expected < limit && (x + y) % kClose == 0) ||
      (worst < limit && (x + y) % kWide == 0))
    return kColours;
  return static_cast<int>(std::lround(scale_place(expected) * (kColours - 1)));
}

/// The colours with what they stand for.
std::string scale_svg(double top, double limit_mm, bool inch) {
  const double step = (kSide - 2.0) / kColours;
  std::string out;
  for (int i = 0; i < kColours; ++i)
    out += fmt::format("<path fill=\"{}\" stroke=\"none\" d=\"M{:.1f} {:.1f}h{:.1f}v7h-{:.1f}z\"/>",
                       colour_text(i), 1 + i * step, top, step, step);
  const auto word = [&](double mm, const std::string& text, const char* anchor, double below) {
    out += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>",
                       1 + scale_place(mm) * (kSide - 2), top + below, anchor, text);
  };
  const double unit = inch ? 25.4 : 1;
  for (const double at : inch ? std::vector{0.01, 0.02, 0.04} : std::vector{0.25, 0.5, 1.0, 2.0})
    word(at * unit, fmt::format("{:g}", at), "middle", 16);
  word(0, "0", "start", 16);
  word(kScaleTop_mm,
       fmt::format("{:.{}f}+ {}", kScaleTop_mm / unit, inch ? 2 : 0, inch ? "in" : "mm"), "end",
       16);
  const double x = 1 + scale_place(limit_mm) * (kSide - 2);
  return out + fmt::format("\n<path stroke-width=\"2\" stroke=\"#000\" d=\"M{:.1f} {:.1f}v11\"/>",
                           x, top - 2);
}

} // namespace

std::string page_sketch(const WallMap& skin, std::span<const double> expected_mm,
                        std::span<const double> worst_mm, const WallReport& report, bool inch) {
  Box box;
  for (const WallSample& s : skin.samples)
    box.add(s.at);
  const double wide = box.high.x - box.low.x, deep = box.high.y - box.low.y;
  const double longer = std::max(wide, deep);
  if (!(longer > 0))
    return "";
  WallGrid grid;
  grid.mm_per_px = longer / (kSide - 2 * kEdge);
  grid.width = kSide;
  grid.height = static_cast<int>(std::ceil(deep / grid.mm_per_px)) + 2 * kEdge;
  grid.left_mm = (box.low.x + box.high.x) / 2 - grid.mm_per_px * grid.width / 2;
  grid.top_mm = (box.low.y + box.high.y) / 2 + grid.mm_per_px * grid.height / 2;
  WallGrid worst = grid;
  const std::array<WallLayer, 2> layers{{{expected_mm, &grid}, {worst_mm, &worst}}};
  rasterise_wall(skin, layers);
  const double limit = report.limit_mm - kLimitTolerance_mm;
  Runs runs;
  for (int y = 0; y < grid.height; ++y)
    for (int x = 0; x < grid.width;) {
      const int path = path_of(grid.at(x, y), worst.at(x, y), limit, x, y);
      int to = x + 1;
      while (to < grid.width && path_of(grid.at(to, y), worst.at(to, y), limit, to, y) == path)
        ++to;
      if (path >= 0)
        runs.add(static_cast<std::size_t>(path), x, to, y);
      x = to;
    }
  std::string out = fmt::format(
      "<svg class=\"sketch\" viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"The skin from above, "
      "coloured by wall, thin places numbered\" font-family=\"sans-serif\" font-size=\"8\" "
      "fill=\"currentColor\">\n<g shape-rendering=\"crispEdges\" stroke-width=\"1.05\" "
      "transform=\"translate(0 .5)\">\n{}</g>\n",
      kSide, grid.height + kFoot, runs.svg());
  out += scale_svg(grid.height + 4, report.limit_mm, inch);
  std::vector<std::pair<double, double>> taken;
  for (std::size_t i = 0; i < std::min(kMostPlaces, report.regions.size()); ++i) {
    const Vec3 at = report.regions[i].at;
    const double x = (at.x - grid.left_mm) / grid.mm_per_px;
    const double y = (grid.top_mm - at.y) / grid.mm_per_px;
    if (std::ranges::any_of(taken, [&](const auto& q) {
          return (q.first - x) * (q.first - x) + (q.second - y) * (q.second - y) < 14 * 14;
        }))
      continue;
    taken.emplace_back(x, y);
    out += fmt::format("\n<circle cx=\"{0:.1f}\" cy=\"{1:.1f}\" r=\"6.5\" fill=\"#fff\" "
                       "stroke=\"#000\" stroke-width=\"1.5\"/><text x=\"{0:.1f}\" y=\"{2:.1f}\" "
                       "text-anchor=\"middle\" font-weight=\"700\" fill=\"#000\">{3}</text>",
                       x, y, y + 2.9, i + 1);
  }
  return out + "\n</svg>\n";
}

} // namespace leastwall
