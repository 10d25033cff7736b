#include "report/maps/heat_map.h"

#include "base/errors.h"
#include "report/draw/colour_map.h"
#include "report/draw/png_read_back.h"
#include "report/draw/wall_pixels.h"
#include "report/sample_walls.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using sample::ReadBack;

namespace {

/// 100 x 60 mm, wall 0.4 + x / 50: the limit 0.8 is met at x = 20.
WallMap tilted() {
  sample::Plate plate;
  plate.wall = [](double x, double) { return 0.4 + x / 50; };
  return sample::wall_map(plate);
}

CheckReport plain_report() {
  CheckReport r = sample::bare_report();
  r.title = "tilted plate";
  r.wall.verdict = Verdict::thin;
  return r;
}

std::string picture_of(const WallMap& map, const CheckReport& r, int width = 1600) {
  HeatMapOptions options;
  options.width_px = width;
  return draw_heat_map(map, {sample::walls(map), {}}, r, options);
}

} // namespace

TEST_CASE("size, colours and scale of the picture agree with the wall") {
  const WallMap map = tilted();
  const CheckReport r = plain_report();
  const ReadBack png(picture_of(map, r));
  const HeatMapLayout at = heat_map_layout_of(map, r, {});
  CHECK(png.width == 1600);
  CHECK(png.height == at.height);

  for (const double x : {40.0, 60.0, 90.0}) { // thick enough to be free of hatching
    // The pixel shows the least wall over its square, so up to one step of the table darker.
    const double wall = 0.4 + x / 50;
    const Rgb seen = png.at(at.px_x(x), at.px_y(33));
    const double low = relative_luminance(wall_colour(wall - 0.012));
    const double high = relative_luminance(wall_colour(wall + 0.002));
    CHECK(relative_luminance(seen) >= low);
    CHECK(relative_luminance(seen) <= high);
  }
  // True to scale: 100 mm across and 60 mm up have the same pixels a millimetre, and the edges of
  // the piece are where they belong.
  CHECK((at.px_x(100) - at.px_x(0)) / 100 == doctest::Approx(1 / at.mm_per_px));
  CHECK((at.px_y(0) - at.px_y(60)) / 60 == doctest::Approx(1 / at.mm_per_px));
  CHECK(png.at(at.px_x(100) - 6, at.px_y(30)) == wall_colour(2.395));
  CHECK(contrast_ratio(png.at(at.px_x(100) + 8, at.px_y(31)), kWhite) < 4);
}

TEST_CASE("the limit contour stands where the wall meets the limit") {
  const WallMap map = tilted();
  const CheckReport r = plain_report();
  const ReadBack png(picture_of(map, r));
  const HeatMapLayout at = heat_map_layout_of(map, r, {});
  int rows = 0;
  for (const double y : {5.0, 12.0, 48.0, 55.0}) { // away from the label in the middle
    double sum = 0, count = 0;
    for (double x = at.px_x(20) - 12; x <= at.px_x(20) + 12; x += 1)
      if (x >= at.px_x(20) - 4 && png.at(x, at.px_y(y)) == kBlack) {
        sum += std::floor(x) + 0.5;
        count += 1;
      }
    REQUIRE(count > 0);
    CHECK(std::abs(sum / count - at.px_x(20)) <= 1.5);
    ++rows;
  }
  CHECK(rows == 4);
}

TEST_CASE("the scale bar is as long as it says") {
  const WallMap map = tilted();
  const CheckReport r = plain_report();
  const ReadBack png(picture_of(map, r));
  const HeatMapLayout at = heat_map_layout_of(map, r, {});
  CHECK(at.bar_mm == 20);
  // The bar's upper edge is black from end to end; the label behind it starts after a gap.
  const auto dark_at = [&](double x) { return relative_luminance(png.at(x, at.bar.y - 18)) < 0.2; };
  CHECK_FALSE(dark_at(at.bar.x - 3));
  double dark = 0;
  while (dark_at(at.bar.x + 1 + dark))
    dark += 1;
  CHECK(std::abs(dark * at.mm_per_px - at.bar_mm) <= 1.5 * at.mm_per_px);
}

TEST_CASE("the colour scale gets lighter from left to right and carries the limit") {
  const WallMap map = tilted();
  const CheckReport r = plain_report();
  const ReadBack png(picture_of(map, r));
  const HeatMapLayout at = heat_map_layout_of(map, r, {});
  const double y = at.scale_top + at.scale_height / 2;
  const double limit_x = at.scale_left + scale_place(0.8) * at.scale_width;
  double before = -1;
  for (double x = at.scale_left + 4; x < at.scale_left + at.scale_width - 4; x += 10) {
    if (std::abs(x - limit_x) < 10)
      continue;
    CHECK(relative_luminance(png.at(x, y)) >= before);
    before = relative_luminance(png.at(x, y));
  }
  CHECK(png.at(limit_x, y) == kBlack);
}

TEST_CASE("each zone looks different in grey, on every colour of the scale") {
  // WCAG 2.x success criterion 1.4.11: 3 : 1 between the parts of a graphic. Each hatch line holds
  // white beside black, so one of the two stands out on any wall colour.
  for (int i = 1; i <= 30; ++i)
    for (const WallZone zone : {WallZone::thin, WallZone::at_risk}) {
      const Rgb base = wall_colour(i * 0.1);
      double best = 0;
      int hatched = 0;
      for (int y = 0; y < 60; ++y)
        for (int x = 0; x < 60; ++x) {
          const Rgb p = zone_pixel(zone, i * 0.1, x, y, 1);
          best = std::max(best, contrast_ratio(p, base));
          hatched += p == base ? 0 : 1;
        }
      CHECK(best >= 3);
      if (zone == WallZone::thin)
        CHECK(hatched > 1500); // close: more than two fifths of the pixels
      else
        CHECK(hatched < 1100); // wide-spaced: less than a third
    }
  int black = 0, white = 0;
  for (int y = 0; y < 60; ++y)
    for (int x = 0; x < 60; ++x) {
      const Rgb p = zone_pixel(WallZone::cut, 0, x, y, 1);
      black += p == kBlack ? 1 : 0;
      white += p == kWhite ? 1 : 0;
    }
  CHECK(black > 1800);
  CHECK(white > 400);
}

TEST_CASE("zones follow wall, worst case and limit") {
  const double none = std::nan("");
  CHECK(wall_zone(none, none, 0.8) == WallZone::none);
  CHECK(wall_zone(0, 0, 0.8) == WallZone::cut);
  CHECK(wall_zone(0.79, 0.5, 0.8) == WallZone::thin);
  CHECK(wall_zone(0.9, 0.79, 0.8) == WallZone::at_risk);
  CHECK(wall_zone(0.9, 0.8, 0.8) == WallZone::holds);
  CHECK(wall_zone(0.8 - 1e-6, 0.8 - 1e-6, 0.8) == WallZone::holds); // by a drawing's rounding
  CHECK(wall_zone(0.9, none, 0.8) == WallZone::holds);
}

TEST_CASE("a pinhole is drawn large enough to see") {
  sample::Plate plate;
  plate.x1 = plate.y1 = 2000;
  plate.wall = [](double, double) { return 2.0; };
  WallMap map = sample::wall_map(plate);
  map.samples.push_back({{1010, 990, 0}, {0, 0, -1}, -0.1});
  map.minima.push_back({static_cast<std::uint32_t>(map.samples.size() - 1), 0});
  const CheckReport r = plain_report();
  const HeatMapLayout at = heat_map_layout_of(map, r, {});
  const ReadBack png(picture_of(map, r));
  int marked = 0;
  for (double dy = -8; dy <= 8; dy += 1)
    for (double dx = -8; dx <= 8; dx += 1) {
      const Rgb p = png.at(at.px_x(1010) + dx, at.px_y(990) + dy);
      marked += contrast_ratio(p, wall_colour(2.0)) > 1.3 ? 1 : 0;
    }
  CHECK(marked >= 49);
}

TEST_CASE("the verdict bands differ and their text is readable") {
  // WCAG 2.x success criterion 1.4.6: 7 : 1 for text.
  const WallMap map = tilted();
  std::vector<Rgb> bands;
  for (const Verdict v :
       {Verdict::safe, Verdict::at_risk, Verdict::thin, Verdict::cut_through, Verdict::unproven}) {
    CheckReport r = plain_report();
    r.wall.verdict = v;
    const ReadBack png(picture_of(map, r, 800));
    const Rgb back = png.at(3, 3);
    CHECK(contrast_ratio(back, text_colour_on(back)) >= 7);
    int ink = 0;
    for (int y = 10; y < 50; ++y)
      for (int x = 100; x < 300; ++x)
        ink += png.at(x, y) == text_colour_on(back) ? 1 : 0;
    CHECK(ink > 300);
    for (const Rgb& other : bands)
      CHECK(contrast_ratio(back, other) > 1.15);
    bands.push_back(back);
  }
}

TEST_CASE("every shape, size and amount of thin places makes a picture") {
  CheckReport many = plain_report();
  for (int i = 0; i < 200; ++i)
    many.wall.regions.push_back({0.3, 0.1, 1, 1, {0.5 * i, 0.25 * i, 0}, {}});
  many.title = "Blatt \xe8\x91\x89 " + std::string(300, 'w');
  struct Shape {
    double x0, x1, y0, y1, wall;
  };
  for (const Shape& s : {Shape{0, 100, 0, 60, -0.2}, Shape{0, 1000, 0, 2, 1},
                         Shape{0, 2, 0, 900, 9}, Shape{10000, 10000.01, -5000, -4999.99, 0.5},
                         Shape{-1e5, 1e5, 0, 1e5, 1}, Shape{3, 3, 0, 50, 0.5}})
    for (const CheckReport& r : {plain_report(), many}) {
      sample::Plate plate{s.x0, s.x1, s.y0, s.y1, 4, 4, {}, {}};
      plate.z = [](double, double) { return 0.0; };
      plate.wall = [&](double, double) { return s.wall; };
      const WallMap map = sample::wall_map(plate);
      const ReadBack png(picture_of(map, r, 500));
      CHECK(png.width == 500);
      CHECK(png.height > 200);
      CHECK(png.height < 1200);
    }
}

TEST_CASE("the same wall gives the same bytes") {
  const WallMap map = tilted();
  CheckReport r = sample::full_report();
  const std::vector<double> expected = sample::walls(map), worst = sample::walls(map, -0.2);
  const std::string first = draw_heat_map(map, {expected, worst}, r, {});
  CHECK(first == draw_heat_map(map, {expected, worst}, r, {}));
  CHECK(first != draw_heat_map(map, {expected, {}}, r, {}));
}

TEST_CASE("wrong calls are refused in one line") {
  const WallMap map = tilted();
  const CheckReport r = plain_report();
  CHECK_THROWS_AS(picture_of(map, r, 10), InputError);
  CHECK_THROWS_AS(picture_of(map, r, 100000), InputError);
  CHECK_THROWS_AS(picture_of(WallMap{}, r), RunError);
  const std::vector<double> few(3, 1.0);
  CHECK_THROWS_AS(draw_heat_map(map, {few, {}}, r, {}), RunError);
}

TEST_CASE("lengths are round") {
  CHECK(round_length(99) == 50);
  CHECK(round_length(100) == 100);
  CHECK(round_length(0.3) == doctest::Approx(0.2));
  CHECK(round_length(2.0001) == 2);
}

TEST_CASE("of a title that is too long the wall's name stays, the piece's name is cut") {
  const WallMap map = tilted();
  CheckReport r = plain_report();
  const std::string wall = "right half of the lantern: skin to candle room",
                    piece = "the lantern with the deep grooves and the new rim that somebody named "
                            "without ever thinking of the width of a picture";
  r.title = piece + ", " + wall;
  r.one_of = CheckReport::OneOfJob{8, 14, Verdict::safe, wall};
  HeatMapOptions options;
  options.file = PictureFile::svg; // has its words as text
  const std::string svg = draw_heat_map(map, {sample::walls(map), {}}, r, options);
  std::size_t shown = 0; // times the title is written on the picture: not as a whole
  for (std::size_t at = svg.find(", " + wall); at != svg.npos; at = svg.find(", " + wall, at + 1))
    shown += svg.compare(at - piece.size(), piece.size(), piece) != 0 ? 1 : 0;
  CHECK(shown == 1);
  CHECK(svg.find("the lantern with") != std::string::npos);
  CHECK(svg.find(" ... ") != std::string::npos);
}
