// Resin on a board that is off level, in closed form.
#include "pour/tilted_pour.h"

#include "peers/reference_library.h"
#include "pour/volume_below.h"
#include "support/random_shapes.h"

#include <doctest/doctest.h>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

TEST_CASE("a box: half the fall over one rim, half of it short at the other") {
  const WetSurface wet = wet_surface(box({-30, -10, -8}, {50, 10, 0}), 0);
  const TiltedPour east = tilted_pour(wet, {0.01, 0.0}, {});
  CHECK(east.short_mm == Approx(0.8));
  CHECK(east.brim_mm3 == Approx(80 * 20 * (8 - 0.4)));
  CHECK(east.dammed_mm3 == Approx(80 * 20 * (8 + 0.4)));
  CHECK(east.over_mm == Approx(0.4));
  CHECK(east.under_mm == Approx(0.4));
  CHECK(east.towards_deg == 0);
  CHECK(tilted_pour(wet, {0.01, 90.0}, {}).short_mm == Approx(0.2));
  // 80 cos a + 20 sin a, largest of all multiples of 15 degrees at 15: 82.45.
  const TiltedPour worst = tilted_pour(wet, {0.01, std::nullopt}, {});
  CHECK(worst.short_mm == Approx(0.824511).epsilon(1e-5));
  CHECK(worst.towards_deg == 15);
}

TEST_CASE("which side is low: a pocket that is wide on the right holds less when it falls right") {
  // A wedge in plan: opening from x = 0 (a point) to x = 60 (30 wide), 10 deep, upright sides.
  TriMesh wedge;
  wedge.vertices = {{0, 0, 0},   {60, -15, 0},   {60, 15, 0},
                    {0, 0, -10}, {60, -15, -10}, {60, 15, -10}};
  wedge.triangles = {{0, 1, 2}, {3, 5, 4}, {0, 3, 4}, {0, 4, 1},
                     {1, 4, 5}, {1, 5, 2}, {2, 5, 3}, {2, 3, 0}};
  const WetSurface wet = wet_surface(wedge, 0);
  REQUIRE(wet.trouble == WetSurface::Trouble::none);
  const double area = 60 * 30 / 2.0, middle = 40; // of the opening, and where its centroid lies
  const TiltedPour right = tilted_pour(wet, {0.02, 0.0}, {}),
                   left = tilted_pour(wet, {0.02, 180.0}, {});
  CHECK(right.brim_mm3 == Approx(area * (10 - 0.02 * (60 - middle))));
  CHECK(left.brim_mm3 == Approx(area * (10 - 0.02 * middle)));
  CHECK(right.dammed_mm3 == Approx(area * (10 + 0.02 * middle)));
  CHECK(right.over_mm == Approx(0.02 * (60 - middle)));
  CHECK(right.under_mm == Approx(0.02 * middle));
  CHECK(left.over_mm == Approx(0.02 * middle));
}

TEST_CASE("sloping sides: the brim level against CGAL, and the level that holds the same") {
  TriMesh ball = bumpy_ball(2, 20, 5, 48);
  const WetSurface wet = wet_surface(ball, 0);
  REQUIRE(wet.trouble == WetSurface::Trouble::none);
  const double slope = 0.05;
  const TiltedPour got = tilted_pour(wet, {slope, 0.0}, {});
  double low = -1e9, high = 1e9;
  for (const Vec3& v : wet.mesh.vertices)
    if (v.z > -1e-6) {
      low = std::max(low, v.x);
      high = std::min(high, v.x);
    }
  CHECK(got.short_mm == Approx(slope * (low - high)).epsilon(1e-9));
  // Under the plane through the lowest rim and, above the rim's other places, under the face: the
  // plane is below the face over all of the opening.
  TriMesh below = ball;
  CHECK(got.brim_mm3 ==
        Approx(peers::volume_below_plane(below, -slope * low, slope)).epsilon(2e-3));
  // Poured level, seen from the sloping board.
  CHECK(got.over_mm + got.under_mm == Approx(got.short_mm).epsilon(1e-9));
  const double level = got.over_mm - slope * low;
  CHECK(volume_below(wet.mesh, SlopingLevel{level, slope, 1, 0}, {}) ==
        Approx(volume_below(wet.mesh, 0, {})).epsilon(1e-9));
}

TEST_CASE("two troughs have two levels") {
  const WetSurface one = wet_surface(box({0, 0, -5}, {10, 10, 0}), 0);
  const WetSurface both =
      wet_surface(joined(box({0, 0, -5}, {10, 10, 0}), box({100, 0, -5}, {110, 10, 0})), 0);
  const TiltedPour a = tilted_pour(one, {0.02, 0.0}, {}), b = tilted_pour(both, {0.02, 0.0}, {});
  CHECK(b.short_mm == Approx(a.short_mm));
  CHECK(b.brim_mm3 == Approx(2 * a.brim_mm3));
}
