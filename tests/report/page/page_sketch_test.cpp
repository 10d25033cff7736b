#include "report/page/page_sketch.h"

#include "report/draw/colour_map.h"
#include "report/sample_walls.h"

#include <cmath>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <map>
#include <sstream>
#include <string>

using namespace leastwall;

namespace {

/// Pixels of each colour of an SVG's paths, left and right of `middle`: its runs read back by the
/// rules of SVG 1.1, 8.3 (M and m move, h draws).
std::map<std::string, std::pair<int, int>> pixels(const std::string& svg, int middle) {
  std::map<std::string, std::pair<int, int>> out;
  for (std::size_t at = svg.find("<path stroke=\"#"); at != svg.npos;
       at = svg.find("<path stroke=\"#", at + 1)) {
    const std::string colour = svg.substr(at + 14, svg.find('"', at + 14) - at - 14);
    const std::size_t from = svg.find(" d=\"", at) + 4;
    std::istringstream path(svg.substr(from, svg.find('"', from) - from));
    int x = 0, y = 0, by = 0;
    for (char c = 0; path >> c;)
      if (c == 'M') {
        path >> x >> y;
      } else if (c == 'm') {
        path >> by >> y;
        x += by;
      } else {
        REQUIRE(c == 'h');
        path >> by;
        REQUIRE(by > 0);
        (x < middle ? out[colour].first : out[colour].second) += by;
        x += by;
      }
  }
  return out;
}

std::string colour_of(double wall_mm) {
  const auto step = static_cast<std::size_t>(std::lround(scale_place(wall_mm) * 15) * 17);
  const Rgb c = viridis()[step];
  return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b);
}

} // namespace

TEST_CASE("the sketch shows each wall in its colour, with the stripes of what is too thin") {
  sample::Plate plate;
  plate.nx = plate.ny = 40;
  plate.x0 = plate.y0 = 0;
  plate.x1 = plate.y1 = 100;
  plate.z = [](double, double) { return -10.0; };
  plate.wall = [](double x, double) { return x < 50 ? 0.4 : 2.0; };
  const WallMap map = sample::wall_map(plate);
  std::vector<double> expected, worst;
  for (const WallSample& s : map.samples) {
    expected.push_back(s.wall_mm);
    worst.push_back(s.wall_mm - (s.at.y < 50 ? 0.1 : 0.0));
  }
  WallReport wall;
  wall.limit_mm = 0.5;
  wall.regions = {{0.4, 0.3, 1, 1, {20, 30, -10}, {}}, {0.4, 0.3, 1, 1, {21, 31, -10}, {}}};
  const std::string svg = page_sketch(map, expected, worst, wall, false);
  const auto seen = pixels(svg, 118); // the step between the walls takes a cell
  const int all = 222 * 222;
  // Under the limit a third of the pixels is black; beyond it the rest of the colour.
  CHECK(std::abs(seen.at("#000").first - all / 6) < all / 40);
  CHECK(std::abs(seen.at(colour_of(0.4)).first - all / 3) < all / 20);
  CHECK(std::abs(seen.at(colour_of(2.0)).second - all / 2) < all / 20);
  CHECK(seen.at("#000").second < all / 100);
  // The same walls against a limit that only the worst case of the lower half misses: every sixth.
  wall.limit_mm = 0.35;
  const auto risk = pixels(page_sketch(map, expected, worst, wall, false), 118);
  CHECK(std::abs(risk.at("#000").first - all / 4 / 6) < all / 100);
  // Two numbers over each other: the thinner place keeps its own, at its place.
  CHECK(svg.find(">1</text>") != svg.npos);
  CHECK(svg.find(">2</text>\n</svg>") == svg.npos);
  CHECK(svg.find("cx=\"53.4\" cy=\"164.4\"") != svg.npos); // 9 + 20 * 2.22, 9 + 70 * 2.22
  CHECK(svg.find("3+ mm") != svg.npos);
  CHECK(page_sketch(map, expected, worst, wall, true).find("0.12+ in") != std::string::npos);
  // Cut through is black without a gap.
  for (double& e : expected)
    e -= 0.5;
  const auto cut = pixels(page_sketch(map, expected, worst, wall, false), 118);
  CHECK(std::abs(cut.at("#000").first - all / 2) < all / 20);
}
