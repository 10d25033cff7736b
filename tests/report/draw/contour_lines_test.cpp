#include "report/draw/contour_lines.h"

#include <cmath>
#include <doctest/doctest.h>
#include <functional>
#include <limits>
#include <numbers>

using namespace leastwall;

namespace {

WallGrid grid_from(int width, int height, const std::function<double(double, double)>& f) {
  WallGrid grid{width, height, 1, 0, 0, {}};
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      grid.value.push_back(f(x + 0.5, y + 0.5));
  return grid;
}

double length_of(const ContourLine& line) {
  double sum = 0;
  for (std::size_t i = 1; i < line.size(); ++i)
    sum += std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
  return sum;
}

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();

} // namespace

TEST_CASE("a plane has one straight contour where the level is met") {
  const auto lines =
      contour_lines(grid_from(60, 40, [](double x, double y) { return 0.02 * x + 0.01 * y; }), 0.8);
  REQUIRE(lines.size() == 1);
  for (const GridPoint& p : lines[0])
    CHECK(0.02 * p.x + 0.01 * p.y == doctest::Approx(0.8).epsilon(1e-9));
}

TEST_CASE("a cone has one closed circle") {
  const auto lines = contour_lines(
      grid_from(100, 100, [](double x, double y) { return std::hypot(x - 50, y - 47); }), 30);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].front().x == lines[0].back().x);
  CHECK(lines[0].front().y == lines[0].back().y);
  CHECK(length_of(lines[0]) == doctest::Approx(2 * std::numbers::pi * 30).epsilon(0.001));
}

TEST_CASE("the longest line comes first and none runs into empty pixels") {
  const auto f = [](double x, double y) {
    if (x > 70)
      return kNaN;
    return std::min(std::hypot(x - 25, y - 25) / 20, std::hypot(x - 58, y - 60) / 5);
  };
  const auto lines = contour_lines(grid_from(100, 80, f), 1.0);
  REQUIRE(lines.size() == 2);
  CHECK(length_of(lines[0]) == doctest::Approx(2 * std::numbers::pi * 20).epsilon(0.01));
  CHECK(length_of(lines[1]) == doctest::Approx(2 * std::numbers::pi * 5).epsilon(0.03));
  CHECK(contour_lines(grid_from(9, 9, [](double, double) { return kNaN; }), 1).empty());
  CHECK(contour_lines(grid_from(9, 9, [](double, double) { return 1.0; }), 1).empty());
}

TEST_CASE("a saddle is cut into two lines that do not meet") {
  const WallGrid grid{2, 2, 1, 0, 0, {0, 1, 1, 0}};
  CHECK(contour_lines(grid, 0.4).size() == 2);
  CHECK(contour_lines(grid, 0.6).size() == 2);
}

TEST_CASE("smoothing keeps a plane inside, and empty pixels empty") {
  const auto plane = [](double x, double y) { return x > 20 ? kNaN : 3 * x + y; };
  const WallGrid before = grid_from(30, 20, plane), after = smoothed(before, 2);
  CHECK(after.at(10, 10) == doctest::Approx(before.at(10, 10)));
  CHECK(std::isnan(after.at(25, 10)));
  CHECK_FALSE(std::isnan(after.at(19, 10)));
}
