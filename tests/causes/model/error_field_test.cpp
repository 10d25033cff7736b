// Errors that vary from place to place: which error acts where, and by how much.
#include "causes/setup_support.h"

#include "base/assumption.h"
#include "causes/model/error_tiles.h"
#include "setup/place.h"

#include <cmath>
#include <doctest/doctest.h>
#include <random>
#include <set>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

std::vector<ErrorShare> shares_of(const Cause& cause, const WallSample& p) {
  std::vector<ErrorShare> shares;
  cause.field->shares(p, shares);
  return shares;
}

Setup uneven(double width, double depth) {
  Setup s;
  s.board.footprint = Footprint{{-width / 2, -depth / 2}, {width / 2, depth / 2}};
  s.inner.sanding_mm = 0.1;
  s.inner.sanding = {0.05, Knowledge::limits};
  return s;
}

Cause sanding_of(const Setup& s) {
  for (const Cause& c : causes_with(s, CauseKind::sanding, CauseKind::uneven_sanding))
    if (c.field)
      return c;
  return {};
}

// Readings of a bed anywhere, one of them raised.
std::shared_ptr<const BedMap> raised(const std::vector<Vec3>& readings, bool grid,
                                     std::size_t which, double by) {
  std::vector<Vec3> changed = readings;
  changed[which].z += by;
  return std::make_shared<const BedMap>(grid ? BedMap::from_readings(changed)
                                             : BedMap::scattered(changed));
}

std::size_t number_in(const BedMap& map, const Vec3& place) {
  for (std::size_t i = 0; i < map.points().size(); ++i)
    if (std::hypot(map.points()[i].x - place.x, map.points()[i].y - place.y) < 1e-9)
      return i;
  return map.points().size();
}

} // namespace

TEST_CASE("sanding differs from square to square: one error each, the same everywhere inside") {
  Setup s = uneven(100, 60);
  s.inner.sanding_length_mm = 10;
  const Cause c = sanding_of(s);
  REQUIRE(c.field);
  CHECK(c.field->count() == 60);
  std::set<std::uint32_t> seen;
  for (double x = -49.5; x < 50; x += 1)
    for (double y = -29.5; y < 30; y += 1) {
      const auto shares = shares_of(c, flat_point(x, y, 9, 1));
      REQUIRE(shares.size() == 1);
      CHECK(shares[0].c == -1);
      const double i = std::floor((x + 50) / 10), j = std::floor((y + 30) / 10);
      CHECK(shares[0].error == static_cast<std::uint32_t>(j * 10 + i));
      seen.insert(shares[0].error);
    }
  CHECK(seen.size() == 60);
  // Beside the board: as at its edge.
  CHECK(shares_of(c, flat_point(1e4, -1e4, 9, 1))[0].error == 9);
  CHECK(c.sensitivity(flat_point(0, 0, 9, 1)) == -1);
  CHECK(c.sensitivity_2(flat_point(0, 0, 9, 1)) == 1);
}

TEST_CASE("the length over which an error varies: stated, taken, or too short for the board") {
  const auto lines = [](const Setup& s) {
    std::vector<Assumption> assumptions;
    causes_of(s, assumptions);
    std::string all;
    for (const Assumption& a : assumptions)
      all += a.text + "\n";
    return all;
  };
  Setup s = uneven(100, 60);
  CHECK(sanding_of(s).field->count() == 15); // 20 mm
  CHECK(lines(s).find("places 20 mm apart are taken as independent") != std::string::npos);
  s.inner.sanding_length_mm = 50;
  CHECK(sanding_of(s).field->count() == 4);
  CHECK(lines(s).find("independent") == std::string::npos);
  s = uneven(2000, 1000);
  s.inner.sanding_length_mm = 2;
  CHECK(sanding_of(s).field->count() <= kMaxTiles);
  CHECK(sanding_of(s).field->count() > kMaxTiles / 2);
  CHECK(lines(s).find("too short for so large a board") != std::string::npos);
}

TEST_CASE("an uneven board acts under the wall by the cosine, square by square") {
  Setup s;
  s.board.footprint = Footprint{{0, 0}, {40, 20}};
  s.board.variation_mm = 0.03;
  for (const Cause& c : causes_with(s, CauseKind::board_at_touch, CauseKind::board_under_wall)) {
    if (!c.field)
      continue;
    const auto here = shares_of(c, {{5, 5, -9}, {0.6, 0, -0.8}, 1});
    const auto there = shares_of(c, {{25, 5, -9}, {0, 0, -1}, 1});
    REQUIRE(here.size() == 1);
    CHECK(here[0].c == Approx(-0.8));
    CHECK(there[0].c == Approx(-1));
    CHECK(here[0].error != there[0].error);
  }
}

TEST_CASE("errors of bed readings: what raising each reading really does to the wall") {
  std::mt19937 random(8);
  std::uniform_real_distribution<double> any(-1, 1);
  for (int round = 0; round < 40; ++round) {
    const bool grid = round % 2 == 0;
    std::vector<Vec3> readings;
    for (int j = 0; j < 4; ++j)
      for (int i = 0; i < 5; ++i)
        readings.push_back({-80 + 40.0 * i + (grid ? 0 : 8 * any(random)),
                            -60 + 40.0 * j + (grid ? 0 : 8 * any(random)), 0.1 * any(random)});
    if (grid && round % 4 == 0)
      readings.erase(readings.begin() + 7); // a gap, bridged by triangles
    Setup s;
    s.board.footprint = Footprint{{-50, -40}, {50, 40}};
    s.flip.line = round % 3 == 0 ? FlipLine::along_x : FlipLine::along_y;
    s.flip.at_mm = 3;
    s.bed.seating = Seating::pressed;
    s.inner.zero = round % 5 < 2 ? ZeroFrom::bed : ZeroFrom::top;
    s.outer.zero = round % 7 < 3 ? ZeroFrom::bed : ZeroFrom::top;
    s.inner.touch_point = Point2{-30 + 5 * any(random), 10 * any(random)};
    s.outer.touch_point = Point2{30 + 5 * any(random), 10 * any(random)};
    const WallSample p{{40 * any(random), 30 * any(random), -9},
                       unit({0.3 * any(random), 0.3 * any(random), -1}),
                       1};
    s.bed.readings = raised(readings, grid, 0, 0);
    s.bed.reading_error = {0.01, Knowledge::limits};
    const auto causes = causes_with(s, CauseKind::bed_reading);
    REQUIRE(causes.size() == 1);
    const double before = known_change(s, p);
    std::vector<double> c(s.bed.readings->points().size(), 0.0);
    for (const ErrorShare& share : shares_of(causes[0], p))
      c[share.error] = share.c;
    double limits = 0, squares = 0;
    for (std::size_t i = 0; i < readings.size(); ++i) {
      const std::size_t number = number_in(*s.bed.readings, readings[i]);
      REQUIRE(number < c.size());
      Setup moved = s;
      moved.bed.readings = raised(readings, grid, i, 0.01);
      CHECK((known_change(moved, p) - before) / 0.01 == Approx(c[number]).epsilon(1e-9).scale(1));
      limits += std::abs(c[number]);
      squares += c[number] * c[number];
    }
    CHECK(causes[0].sensitivity(p) == Approx(limits).epsilon(1e-12));
    CHECK(causes[0].sensitivity_2(p) == Approx(std::sqrt(squares)).epsilon(1e-12));
  }
}

TEST_CASE("one bed reading is one error: twice on the flip line, nothing at the touch point") {
  Setup s;
  s.board.footprint = Footprint{{-60, -40}, {60, 40}};
  s.bed.readings = grid_of(60, 40, 3, 3, [](double, double) { return 0.0; });
  s.bed.reading_error = {0.01, Knowledge::limits};
  s.bed.seating = Seating::pressed;
  s.inner.touch_point = s.outer.touch_point = Point2{60, 0};
  const Cause c = causes_with(s, CauseKind::bed_reading).at(0);
  // The middle lies on the flip line x = 0: under both sides the same reading. The common touch
  // point lies on another bed reading on side B (mirrored) than on side A.
  const auto middle = shares_of(c, flat_point(0, 0, 9, 1));
  REQUIRE(middle.size() == 3);
  CHECK(middle[0].c == 1);  // (-60, 0): side B's touch
  CHECK(middle[1].c == -2); // (0, 0)
  CHECK(middle[2].c == 1);  // (60, 0)
  CHECK(shares_of(c, flat_point(60, 0, 9, 1)).empty());
  s.inner.touch_point = s.outer.touch_point = Point2{0, 40};
  const auto common =
      shares_of(causes_with(s, CauseKind::bed_reading).at(0), flat_point(0, 0, 9, 1));
  REQUIRE(common.size() == 2);
  CHECK(common[0].c == -2);
  CHECK(common[1].c == 2); // one touch spot of the bed for both sides
}
