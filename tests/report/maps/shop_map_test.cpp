#include "report/maps/shop_map.h"

#include "base/errors.h"
#include "report/draw/colour_map.h"
#include "report/draw/png_read_back.h"
#include "report/maps/cause_grid.h"
#include "report/sample_setups.h"
#include "report/sample_walls.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using sample::ReadBack;

namespace {

/// 100 x 60 mm, wall 1 + x / 50; everything is expected 0.1 and at worst 0.3 thinner. Left of
/// x = 25 cause 0 thins most, beyond it cause 1.
struct Piece {
  WallMap map;
  Budget budget;
  CheckReport report = sample::bare_report();
  Setup setup;

  Piece() {
    sample::Plate plate;
    plate.wall = [](double x, double) { return 1 + x / 50; };
    map = sample::wall_map(plate);
    budget.expected_mm = sample::walls(map, -0.1);
    budget.worst_mm = sample::walls(map, -0.3);
    for (const WallSample& s : map.samples)
      budget.worst_cause.push_back(s.at.x <= 25 ? 0 : 1);
    budget.causes = {{.id = {CauseKind::touch_off, Side::b}, .at_thinnest_mm = 0.05, .share = 0.6},
                     {.id = {CauseKind::bed_flatness}}};
    report.box.add(Vec3{0, 0, -10});
    report.box.add(Vec3{100, 60, 0});
    setup.board.footprint = Footprint{{-20, -15}, {120, 75}};
    setup.inner.touch_point = Point2{-10, -5};
    setup.outer.touch_point = Point2{-10, -5};
    setup.flip.at_mm = 40;
    setup.flip.dowels = Dowels{0.02, 0.02, 80, {}, true};
  }

  ShopMapInput input() const { return {map, budget, report, setup, true}; }
  std::string png(const ShopMapOptions& o) const { return draw_shop_map(input(), o); }
};

/// The colour of this wall, up to one step of the table darker for the width of a pixel.
void check_wall(Rgb seen, double wall) {
  CHECK(relative_luminance(seen) >= relative_luminance(wall_colour(wall - 0.013)));
  CHECK(relative_luminance(seen) <= relative_luminance(wall_colour(wall + 0.002)));
}

} // namespace

TEST_CASE("design, expected and worst-case maps show their wall in the same colours") {
  const Piece piece;
  for (const auto& [kind, change] : {std::pair{ShopMapKind::design, 0.0},
                                     {ShopMapKind::expected, -0.1},
                                     {ShopMapKind::worst, -0.3}}) {
    ShopMapOptions options;
    options.kind = kind;
    const HeatMapLayout at = shop_map_layout_of(piece.input(), options);
    const ReadBack png(piece.png(options));
    CHECK(png.width == 1600);
    CHECK(png.height == at.height);
    for (const double x : {12.0, 44.0, 80.0})
      check_wall(png.at(at.px_x(x), at.px_y(41)), 1 + x / 50 + change);
  }
}

TEST_CASE("side B is mirrored about the flip line, with board, dowels and touch point in place") {
  const Piece piece;
  for (const Side side : {Side::a, Side::b}) {
    ShopMapOptions options;
    options.machine = side;
    const HeatMapLayout at = shop_map_layout_of(piece.input(), options);
    const ReadBack png(piece.png(options));
    const auto seen = [&](double x) { return side == Side::a ? x : 80 - x; }; // 2 * 40 - x
    CHECK((at.px_x(10) - at.px_x(0)) / 10 == doctest::Approx(1 / at.mm_per_px));
    for (const double x : {12.0, 55.0, 90.0})
      check_wall(png.at(at.px_x(seen(x)), at.px_y(47)), 0.9 + x / 50);
    for (const double x : {-20.0, 120.0}) // the sides of the board, away from the flip line
      CHECK(png.at(at.px_x(seen(x)), at.px_y(20)) == kBlack);
    CHECK(png.at(at.px_x(seen(20)), at.px_y(75)) == kBlack);
    for (const double y : {-10.0, 70.0}) // a dowel's cross reaches beyond its ring
      CHECK(relative_luminance(png.at(at.px_x(40) + 19, at.px_y(y))) < 0.2);
    // The touch mark stands on its point: black just above, to the left of its letter.
    CHECK(png.at(at.px_x(seen(-10)), at.px_y(-5) - 8) == kBlack);
  }
}

TEST_CASE("the map of causes gives each place to the cause that thins it most") {
  const Piece piece;
  ShopMapOptions options;
  options.kind = ShopMapKind::causes;
  const HeatMapLayout at = shop_map_layout_of(piece.input(), options);
  const CauseRanking ranking = rank_causes(piece.map, piece.budget);
  REQUIRE(ranking.shown.size() == 2);
  CHECK(ranking.shown[0].name == "bed flatness");
  CHECK(ranking.shown[1].name == "touch-off, side B");
  CHECK(ranking.shown[0].share == doctest::Approx(0.75).epsilon(0.015)); // 75 of 100 mm
  CHECK(ranking.other_share + ranking.none_share == 0);

  const WallGrid frame{at.frame_width, at.frame_height, at.mm_per_px, at.left_mm, at.top_mm, {}};
  const CauseGrid grid = cause_grid(piece.map, piece.budget, ranking, frame);
  const auto style = [&](double x, double y) {
    const auto column = static_cast<std::size_t>(at.px_x(x) - at.frame_left);
    const auto row = static_cast<std::size_t>(at.px_y(y) - at.frame_top);
    return static_cast<int>(grid.style[row * static_cast<std::size_t>(grid.width) + column]);
  };
  CHECK(style(10, 30) == 1);
  CHECK(style(23.5, 30) == 1);
  CHECK(style(26.5, 30) == 0); // samples stand 2 mm apart
  CHECK(style(90, 30) == 0);
  CHECK(style(-1, 30) == static_cast<int>(kNotMeasuredStyle));

  const auto letters = letter_places(grid, 20);
  REQUIRE(letters[0]);
  REQUIRE(letters[1]);
  CHECK_FALSE(letters[2]);
  const double x = at.left_mm + letters[1]->x * at.mm_per_px;
  CHECK(std::abs(x - 12.5) < 1.5); // the middle of a strip 25 mm wide
  const ReadBack png(piece.png(options));
  CHECK(png.height == at.height);
  CHECK(png.at(at.px_x(85), at.px_y(50)) == cause_colours()[0]);
}

TEST_CASE("more causes than looks share the last one") {
  Piece piece;
  piece.budget.causes.assign(9, {});
  for (std::size_t i = 0; i < piece.map.samples.size(); ++i)
    piece.budget.worst_cause[i] = piece.map.samples[i].at.x < 10
                                      ? kNoCause
                                      : static_cast<std::uint32_t>(piece.map.samples[i].at.x) % 9;
  const CauseRanking ranking = rank_causes(piece.map, piece.budget);
  CHECK(ranking.shown.size() == kCauseStyles);
  CHECK(ranking.other_share > 0);
  CHECK(ranking.none_share == doctest::Approx(0.09).epsilon(0.02)); // up to half way to x = 10
  double sum = ranking.other_share + ranking.none_share;
  for (const ShownCause& c : ranking.shown)
    sum += c.share;
  CHECK(sum == doctest::Approx(1));
}

TEST_CASE("every map is as wide as asked, in inches too, and the same every time") {
  const Piece piece;
  for (const ShopMapKind kind :
       {ShopMapKind::design, ShopMapKind::expected, ShopMapKind::worst, ShopMapKind::causes})
    for (const std::optional<Side> machine :
         {std::optional<Side>{}, std::optional{Side::a}, std::optional{Side::b}}) {
      const ShopMapOptions options{kind, machine, 400, true, 12};
      const std::string png = piece.png(options);
      CHECK(ReadBack(png).width == 400);
      CHECK(ReadBack(png).height == shop_map_layout_of(piece.input(), options).height);
      CHECK(piece.png(options) == png);
    }
}

TEST_CASE("walls that do not belong to the map are refused") {
  Piece piece;
  piece.budget.worst_mm.pop_back();
  CHECK_THROWS_AS(piece.png({}), RunError);
  piece = Piece();
  piece.budget.worst_cause.pop_back();
  ShopMapOptions options;
  options.kind = ShopMapKind::causes;
  CHECK_THROWS_AS(piece.png(options), RunError);
}

TEST_CASE("where one cause rules nearly everywhere, the map shows how much errors take, in steps") {
  Piece piece;
  std::ranges::fill(piece.budget.worst_cause, 1);
  for (std::size_t i = 0; i < piece.map.samples.size(); ++i) // takes 0.1 at x = 0, 0.2 at x = 100
    piece.budget.worst_mm[i] = piece.budget.expected_mm[i] - 0.1 - piece.map.samples[i].at.x / 1000;
  ShopMapOptions options;
  options.kind = ShopMapKind::causes;
  const HeatMapLayout at = shop_map_layout_of(piece.input(), options);
  const std::string bytes = piece.png(options);
  const ReadBack png(bytes);
  double before = 2;
  for (const double x : {10.0, 30.0, 50.0, 70.0, 90.0}) { // the middles of five equal steps
    const double light = relative_luminance(png.at(at.px_x(x), at.px_y(41)));
    CAPTURE(x);
    CHECK(light < before - 0.03); // told apart in grey
    before = light;
  }
  CHECK(png.at(at.px_x(2), at.px_y(20)) == png.at(at.px_x(18), at.px_y(50))); // one step
  for (const char* words :
       {"bed flatness", "0.100 to 0.120 mm", "0.180 to 0.200 mm", "errors may take at worst"})
    CHECK_MESSAGE(bytes.find(words) != std::string::npos, std::string(words));
  CHECK(bytes == piece.png(options));
  options.inch = true; // 0.1 / 25.4, 0.12 / 25.4
  CHECK(piece.png(options).find("0.0039 to 0.0047 in (0.120 mm)") != std::string::npos);
}

TEST_CASE("the head of a picture of side B has the thinnest place as the picture has it") {
  Piece piece;
  piece.report.wall.least_wall.at = {10, 20, -5};
  piece.report.wall.least_wall.expected_mm = 0.9;
  const auto has = [](const std::string& png, const char* words) {
    return png.find(words) != std::string::npos;
  };
  ShopMapOptions options;
  options.machine = Side::b;
  // The flip line is x = 40: side B sees 80 - x.
  CHECK(has(piece.png(options),
            "thinnest at x 70.0 y 20.0 here, on side B; in the model x 10.0 y 20.0 z -5.0"));
  options.machine = Side::a;
  CHECK(has(piece.png(options), "thinnest at x 10.0 y 20.0 z -5.0"));
}
