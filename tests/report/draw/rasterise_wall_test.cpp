#include "report/draw/rasterise_wall.h"

#include "report/sample_walls.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

namespace {

WallGrid frame(int width, int height, double mm_per_px, double left = 0, double top = 0) {
  return {width, height, mm_per_px, left, top, {}};
}

WallMap one_cell(Vec3 a, Vec3 b, Vec3 c) {
  WallMap map;
  for (const Vec3 p : {a, b, c})
    map.samples.push_back({p, {0, 0, -1}, 1});
  map.cells = {{0, 1, 2}};
  return map;
}

long filled(const WallGrid& grid) {
  return std::ranges::count_if(grid.value, [](double v) { return !std::isnan(v); });
}

} // namespace

TEST_CASE("no point of a cell is lost, and none looks thicker than it is") {
  // Independent check: points drawn inside random cells. The pixel under each must be filled with
  // no more than the straight-line wall there, and with no less than the least corner of any cell.
  std::mt19937 random(7);
  std::uniform_real_distribution<double> place(-5, 45), wall(0.1, 3), unit(0, 1);
  for (int round = 0; round < 40; ++round) {
    WallMap map;
    std::vector<double> values;
    for (std::uint32_t i = 0; i < 30; ++i) {
      const double spread = round % 2 == 0 ? 1.0 : 0.05; // large cells, then some below a pixel
      const Vec3 at{place(random), place(random), place(random)};
      const Vec3 first = i % 3 == 0 ? at : map.samples[i - i % 3].at;
      map.samples.push_back({first + (at - first) * spread, {0, 0, -1}, 1});
      values.push_back(wall(random));
    }
    for (std::uint32_t i = 0; i < 30; i += 3)
      map.cells.push_back({i, i + 1, i + 2});
    WallGrid grid = frame(40, 40, 1.0, 0, 40);
    rasterise_wall(map, values, grid);
    for (const Tri& t : map.cells)
      for (int n = 0; n < 200; ++n) {
        double u = unit(random), v = unit(random);
        if (u + v > 1) {
          u = 1 - u;
          v = 1 - v;
        }
        const Vec3 p = map.samples[t[0]].at * (1 - u - v) + map.samples[t[1]].at * u +
                       map.samples[t[2]].at * v;
        const double here = values[t[0]] * (1 - u - v) + values[t[1]] * u + values[t[2]] * v;
        const double column = std::floor(p.x), row = std::floor(40 - p.y);
        if (column < 0 || row < 0 || column >= 40 || row >= 40)
          continue;
        const double shown = grid.at(static_cast<int>(column), static_cast<int>(row));
        CHECK(shown <= here + 1e-9); // also false for an empty pixel
      }
    const double least = *std::ranges::min_element(values);
    for (const double v : grid.value)
      CHECK((std::isnan(v) || v >= least));
  }
}

TEST_CASE("row 0 is at the top and column 0 at the left") {
  const WallMap map = one_cell({2.2, 7.1, 0}, {2.8, 7.1, 0}, {2.5, 7.6, 0});
  WallGrid grid = frame(10, 10, 1.0, 0, 10);
  rasterise_wall(map, std::vector<double>{0.5, 0.5, 0.5}, grid);
  CHECK(filled(grid) == 1);
  CHECK(grid.at(2, 2) == 0.5);
}

TEST_CASE("a vertical wall stays a line of at least two pixels") {
  WallMap map = one_cell({20.5, 5, 0}, {20.5, 35, 0}, {20.5, 5, -30});
  WallGrid grid = frame(40, 40, 1.0, 0, 40);
  rasterise_wall(map, std::vector<double>{0.4, 0.4, 0.4}, grid);
  for (int row = 6; row < 34; ++row) {
    int wide = 0;
    for (int column = 0; column < 40; ++column)
      wide += std::isnan(grid.at(column, row)) ? 0 : 1;
    CHECK(wide >= 2);
    CHECK(wide <= 4);
  }
  // Oblique to the pixels as well: each row is met.
  map = one_cell({5, 5, 0}, {35, 31, 0}, {5, 5, -30});
  rasterise_wall(map, std::vector<double>{0.4, 0.4, 0.4}, grid);
  for (int row = 10; row < 34; ++row) {
    int wide = 0;
    for (int column = 0; column < 40; ++column)
      wide += std::isnan(grid.at(column, row)) ? 0 : 1;
    CHECK(wide >= 2);
  }
}

TEST_CASE("the thinner of two layers shows, and a spot inside a cell") {
  WallMap map = one_cell({0, 0, 0}, {10, 0, 0}, {0, 10, 0});
  for (const Vec3 p : {Vec3{0, 0, -5}, Vec3{10, 0, -5}, Vec3{0, 10, -5}, Vec3{3.5, 3.5, 0}})
    map.samples.push_back({p, {0, 0, -1}, 1});
  map.cells.push_back({3, 4, 5});
  map.minima.push_back({6, 0});
  WallGrid grid = frame(10, 10, 1.0, 0, 10);
  rasterise_wall(map, std::vector<double>{1, 1, 1, 2, 2, 2, 0.3}, grid);
  CHECK(grid.at(1, 8) == 1);
  CHECK(grid.at(3, 6) == 0.3);
  CHECK(grid.at(4, 7) == 0.3);
}

TEST_CASE("cells outside the frame, without area, or without a value do no harm") {
  WallMap map = one_cell({-1e9, -1e9, 0}, {-1e9, 1e9, 0}, {-2e9, 0, 0});
  WallGrid grid = frame(8, 8, 1.0, 0, 8);
  rasterise_wall(map, std::vector<double>{1, 1, 1}, grid);
  CHECK(filled(grid) == 0);
  map = one_cell({1, 1, 0}, {4, 4, 0}, {7, 7, 0}); // a line
  rasterise_wall(map, std::vector<double>{1, 1, 1}, grid);
  CHECK(filled(grid) >= 6);
  map = one_cell({1.5, 1.5, 0}, {1.5, 1.5, 0}, {1.5, 1.5, 0}); // a point
  rasterise_wall(map, std::vector<double>{1, 1, 1}, grid);
  CHECK(filled(grid) >= 1);
  map = one_cell({0, 0, 0}, {8, 0, 0}, {0, 8, 0});
  rasterise_wall(map, std::vector<double>{1, std::nan(""), 1}, grid);
  CHECK(filled(grid) == 0);
  rasterise_wall(map, std::vector<double>{1, HUGE_VAL, 1}, grid);
  CHECK(grid.at(1, 6) == 1);
}

TEST_CASE("rows are filled in bands: each row is as if it were the whole frame") {
  // Corners on a grid of 1/1024 mm, so that moving the frame by whole rows rounds nothing. More
  // than 255 x 64 rows make the bands larger.
  for (const int height : {64, 65, 300, 16320, 17001}) {
    CAPTURE(height);
    std::mt19937 random(13);
    std::uniform_real_distribution<double> unit(0, 1);
    const auto on_grid = [&](double from, double to) {
      return std::round((from + unit(random) * (to - from)) * 1024) / 1024;
    };
    WallMap map;
    std::vector<double> values;
    for (std::uint32_t i = 0; i < 240; ++i) {
      const double size = i / 3 % 4 == 0 ? height : i / 3 % 4 == 1 ? 150.0 : 3.0;
      const Vec3 first = i % 3 == 0 ? Vec3{on_grid(-2, 6), on_grid(-height - 9, 9), on_grid(-9, 9)}
                                    : map.samples[i - i % 3].at;
      const Vec3 by{on_grid(-3, 3), on_grid(-size, size), on_grid(-9, 9)};
      map.samples.push_back({i % 3 == 0 ? first : first + by, {0, 0, -1}, 1});
      values.push_back(0.1 + unit(random));
      if (i % 3 == 2)
        map.cells.push_back({i - 2, i - 1, i});
    }
    WallGrid whole = frame(4, height, 1.0);
    rasterise_wall(map, values, whole);
    REQUIRE(filled(whole) > height);
    std::size_t wrong = 0;
    for (int row = 0; row < height; row += height < 1000 ? 1 : 13) {
      WallGrid alone = frame(4, 1, 1.0, 0, -row);
      rasterise_wall(map, values, alone);
      for (int column = 0; column < 4; ++column) {
        const double a = alone.at(column, 0), b = whole.at(column, row);
        wrong += a == b || (std::isnan(a) && std::isnan(b)) ? 0 : 1;
      }
    }
    CHECK(wrong == 0);
  }
}
