// Names, titles and places on maps of a whole board.
#include "report/maps/board_map.h"

#include "report/draw/png_read_back.h"
#include "report/sample_walls.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <doctest/doctest.h>
#include <string>
#include <vector>

using namespace leastwall;
using sample::ReadBack;

namespace {

/// A plate of 100 x 60 mm on its board, dowels on the flip line x = 50 close above and below it.
struct OnePlate {
  WallMap map;
  std::vector<double> expected, worst;
  CheckReport report = sample::bare_report();
  Setup setup;
  WallReport wall;
  std::vector<PartMark> parts{{"left half", {{0, 0}, {100, 60}}, 0}};
  std::uint32_t board = 0, boards = 1, thinnest_board = 0;

  OnePlate() {
    sample::Plate plate;
    plate.wall = [](double x, double) { return 1 + x / 50; };
    map = sample::wall_map(plate);
    expected = sample::walls(map);
    worst = sample::walls(map, -0.1);
    report.title = "lantern";
    report.box.add(Vec3{0, 0, -10});
    report.box.add(Vec3{100, 60, 0});
    report.wall.least_wall.at = {10, 20, -5};
    setup.board.footprint = Footprint{{-40, -40}, {140, 100}};
    setup.flip.at_mm = 50;
    setup.flip.dowels = Dowels{0.02, 0.02, 76, {}, true}; // y 30 -+ 38: 8 mm off the plate
    wall.limit_mm = 0.5;
    RegionRow row;
    row.least_wall_mm = 0.9;
    row.at = {10, 20, -5};
    wall.regions.push_back(row);
  }

  std::string png(Side side) const {
    const std::vector<SkinOnBoard> skins{{map, expected, worst, wall}};
    const std::vector<NumberedWall> walls{{&wall, 8}};
    return draw_board_map(
        {skins, report, setup, true, parts, {}, {}, walls, board, boards, thinnest_board},
        {.machine = side});
  }
};

bool has(const std::string& png, const std::string& words) {
  return png.find(words) != std::string::npos;
}

} // namespace

TEST_CASE("a long name of a part runs neither across a dowel nor past the frame") {
  OnePlate plate;
  plate.parts[0].name.clear();
  const ReadBack none(plate.png(Side::b));
  plate.parts[0].name = "the left half of the second lantern with the deeper grooves, the new rim "
                        "and the ember room that is cut last";
  const std::string drawn = plate.png(Side::b);
  const ReadBack named(drawn);
  CHECK_FALSE(has(drawn, plate.parts[0].name));
  CHECK(has(drawn, "cut last")); // its end tells it from others
  // The dowels stand where the picture is another one without them, above its legend.
  plate.parts[0].name.clear();
  plate.setup.flip.dowels.reset();
  const ReadBack bare(plate.png(Side::b));
  REQUIRE(bare.height == none.height);
  double sum = 0, pixels = 0;
  for (int y = none.height / 5; y < none.height / 2; ++y)
    for (int x = 0; x < none.width; ++x)
      if (bare.at(x, y) != none.at(x, y)) {
        sum += x;
        ++pixels;
      }
  REQUIRE(pixels > 0);
  const auto line = static_cast<int>(std::lround(sum / pixels)); // of the flip, through the dowels
  // What the name changes lies in the frame and off that line.
  int changed = 0, left = named.width, right = 0, over_line = 0;
  for (int y = 0; y < named.height; ++y)
    for (int x = 0; x < named.width; ++x) {
      if (named.at(x, y) == none.at(x, y))
        continue;
      ++changed;
      left = std::min(left, x);
      right = std::max(right, x);
      over_line += std::abs(x - line) <= 3 ? 1 : 0;
    }
  CHECK(changed > 300);
  CHECK(left > 100);
  CHECK(right < named.width - 40);
  CHECK(over_line == 0);
}

TEST_CASE("a map of one of several boards says which, and where the thinnest place lies") {
  OnePlate plate;
  CHECK(has(plate.png(Side::a), "thinnest at x 10.0 y 20.0 z -5.0"));
  CHECK_FALSE(has(plate.png(Side::a), "Board 1"));
  // The flip line is x = 50: side B sees 100 - x.
  CHECK(has(plate.png(Side::b),
            "thinnest at x 90.0 y 20.0 here, on side B; in the model x 10.0 y 20.0 z -5.0"));
  plate.board = 1;
  plate.boards = 2;
  CHECK(has(plate.png(Side::b), "Board 2 of 2: lantern"));
  CHECK(has(plate.png(Side::b), "thinnest at x 10.0 y 20.0 z -5.0 on board 1, side A up"));
}

TEST_CASE("a thin place on a map of a board is called by its wall and its number there") {
  const OnePlate plate;
  for (const Side side : {Side::a, Side::b}) {
    CHECK(has(plate.png(side), "8-1"));
    CHECK(has(plate.png(side), "8-1: thin place 1 of wall 8"));
  }
}
