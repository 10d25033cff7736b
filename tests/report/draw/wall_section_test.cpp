// Sections of a wall between spheres, whose section is two circles.
#include "report/draw/wall_section.h"

#include "parts/place_measurement.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using doctest::Approx;

namespace {

constexpr double kInner = 23.5, kOuter = 25; // mm

WallMeasurement between_spheres() {
  MeasureOptions options;
  options.ceiling_mm = 2;
  return measure_wall(shapes::sphere({}, kInner, 256, 128), shapes::sphere({}, kOuter, 256, 128),
                      options, {});
}

/// The sample nearest to a point.
const WallSample& near(const WallMeasurement& m, Vec3 p) {
  return *std::ranges::min_element(m.skin.samples, {},
                                   [p](const WallSample& s) { return length_squared(s.at - p); });
}

} // namespace

TEST_CASE("a wall between spheres is cut along two circles, its ends one on each") {
  // Plain geometry: an upright plane through the middle cuts spheres in circles of their radius.
  const WallMeasurement m = between_spheres();
  const WallSample& at = near(m, {15, 10, -std::sqrt(25.0 * 25 - 325)});
  const WallSection s = wall_section(m, at, 8, 6);
  CHECK(s.wall_mm == Approx(1.5).epsilon(0.005));
  const double from_axis = std::hypot(at.at.x, at.at.y); // the plane passes through the middle
  const auto radius = [&](const SectionPoint& p) {
    return std::hypot(p.along_mm + from_axis, p.z_mm);
  };
  CHECK(radius(s.on_skin) == Approx(kOuter).epsilon(0.001));
  CHECK(radius(s.on_pocket) == Approx(kInner).epsilon(0.001));
  for (const auto& [pieces, r] : {std::pair{&s.skin, kOuter}, {&s.pocket, kInner}}) {
    REQUIRE(pieces->size() > 4);
    double along = 0;
    for (const auto& [a, b] : *pieces) {
      along += std::hypot(a.along_mm - b.along_mm, a.z_mm - b.z_mm);
      for (const SectionPoint& p : {a, b}) {
        CHECK(radius(p) == Approx(r).epsilon(0.001));
        CHECK(p.along_mm >= s.window_low.along_mm - 1e-9);
        CHECK(p.along_mm <= s.window_high.along_mm + 1e-9);
        CHECK(p.z_mm >= s.window_low.z_mm - 1e-9);
        CHECK(p.z_mm <= s.window_high.z_mm + 1e-9);
      }
    }
    // Both circles cross the window from side to side, leaning as the wall does.
    CHECK(along > 6);
    CHECK(along < 10);
  }
  const SectionPoint middle{(s.on_skin.along_mm + s.on_pocket.along_mm) / 2,
                            (s.on_skin.z_mm + s.on_pocket.z_mm) / 2};
  CHECK((s.window_low.along_mm + s.window_high.along_mm) / 2 == Approx(middle.along_mm));
  CHECK((s.window_low.z_mm + s.window_high.z_mm) / 2 == Approx(middle.z_mm));
  CHECK(s.window_high.along_mm - s.window_low.along_mm == Approx(8));
  CHECK(s.window_high.z_mm - s.window_low.z_mm == Approx(6));
}

TEST_CASE("a part that is turned and mirrored on the board has the same section") {
  WallMeasurement m = between_spheres();
  const WallSample before = near(m, {15, 10, -17.3});
  const WallSection drawn = wall_section(m, before, 8, 6);
  BoardPlacing placing;
  placing.mirrored = true;
  placing.turn_deg = 90;
  placing.place = {70, -20};
  place_measurement(m, placing);
  const OnBoard on_board(placing);
  const WallSection placed = wall_section(m, near(m, on_board.place(before.at)), 8, 6);
  CHECK(placed.on_pocket.along_mm == Approx(drawn.on_pocket.along_mm).epsilon(1e-6));
  const auto length_of = [](const SectionPieces& pieces) {
    double sum = 0;
    for (const auto& [a, b] : pieces)
      sum += std::hypot(a.along_mm - b.along_mm, a.z_mm - b.z_mm);
    return sum;
  };
  CHECK(length_of(placed.pocket) == Approx(length_of(drawn.pocket)).epsilon(1e-6));
  CHECK(length_of(placed.skin) == Approx(length_of(drawn.skin)).epsilon(1e-6));
  const auto lowest = [](const SectionPieces& pieces) {
    SectionPoint low{0, 1e9};
    for (const auto& piece : pieces)
      for (const SectionPoint& p : piece)
        low = p.z_mm < low.z_mm ? p : low;
    return low;
  };
  CHECK(lowest(placed.pocket).along_mm == Approx(lowest(drawn.pocket).along_mm).epsilon(1e-6));
  CHECK(lowest(placed.pocket).z_mm == Approx(lowest(drawn.pocket).z_mm).epsilon(1e-6));
}

TEST_CASE("a floor, whose wall stands upright, is cut along x; the window grows with the wall") {
  MeasureOptions options;
  options.ceiling_mm = 3;
  const WallMeasurement m = measure_wall(shapes::box({-20, -20, -6}, {20, 20, 0}),
                                         shapes::box({-25, -25, -7}, {25, 25, 0}), options, {});
  const WallSection s = wall_section(m, near(m, {3, 4, -7}), 10, 8);
  CHECK(s.plane.dx == 1);
  CHECK(s.plane.dy == 0);
  for (const auto& piece : s.skin)
    for (const SectionPoint& p : piece)
      CHECK(p.z_mm == Approx(-7));
  for (const auto& piece : s.pocket)
    for (const SectionPoint& p : piece)
      CHECK(p.z_mm == Approx(-6));
  CHECK(section_height_mm(0.5, 0.2) == 4);
  CHECK(section_height_mm(0.5, 2) == 12);
  CHECK(section_height_mm(1, -2) == 12);
}

TEST_CASE("along the open edge of a relief sheet the section shows both surfaces") {
  // Planes that lean by 1 in 4: both run through the whole window.
  const auto sheet = [](double z) {
    return shapes::sheet({-20, 20}, {-20, 20}, 4, 4, [z](double x, double) { return z + x / 4; });
  };
  MeasureOptions options;
  options.ceiling_mm = 2;
  const WallMeasurement m = measure_wall(sheet(-5), sheet(-6), options, {});
  for (const double y : {-20.0, 20.0, 3.0}) {
    const WallSample& at = near(m, {5, y, -4.75});
    REQUIRE(at.at.y == Approx(y).epsilon(0.2));
    const WallSection s = wall_section(m, at, 8, 6);
    for (const auto* pieces : {&s.skin, &s.pocket}) {
      double along = 0;
      for (const auto& [a, b] : *pieces)
        along += std::abs(a.along_mm - b.along_mm);
      CHECK(along == Approx(8).epsilon(0.01));
    }
  }
}
