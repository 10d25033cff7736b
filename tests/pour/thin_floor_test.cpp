#include "pour/thin_floor.h"

#include "support/shapes.h"

#include <doctest/doctest.h>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

TEST_CASE("a floor under a skin that comes nearer on one side: where a wedge is under the limit") {
  // Skin falls from 1 mm under the floor at x = 0 to 3 mm at x = 40. The distance to it is the
  // height times the cosine of its slope: under 2 mm up to x = (2 / cos - 1) / slope.
  const double slope = 2.0 / 40, cosine = 1 / std::sqrt(1 + slope * slope);
  const TriMesh floor = sheet({0, 40}, {0, 20}, 1, 1, [](double, double) { return -10; });
  const TriMesh skin =
      sheet({-60, 100}, {-60, 80}, 1, 1, [&](double x, double) { return -11 - slope * x; });
  const ClosestSurface near(skin);
  const ThinFloor got = thin_floor(floor, near, 2, {});
  const double until = (2 / cosine - 1) / slope;
  // Pieces at the limit are up to half a mm long and judged by their middles.
  CHECK(got.area_mm2 == Approx(20 * until).epsilon(0.01));
  CHECK(got.least_mm < 1.1);
  CHECK(got.least_mm >= cosine);
  CHECK(got.at.x < 2);
  double drawn = 0;
  for (const auto& p : got.thin) {
    drawn += 0.5 * length(cross(p[1] - p[0], p[2] - p[0]));
    for (const Vec3& v : p)
      CHECK(v.x < until + 0.5);
  }
  CHECK(drawn == Approx(got.area_mm2));
  CHECK(thin_floor(floor, near, 0.9, {}).area_mm2 == 0);
  CHECK(thin_floor(floor, near, 5, {}).area_mm2 == Approx(800));
}

TEST_CASE("a floor that is everywhere as thick as the limit ends, the same on any threads") {
  const TriMesh floor =
      subdivided(subdivided(sheet({0, 300}, {0, 300}, 4, 4, [](double, double) { return -10; })));
  const TriMesh skin = sheet({-10, 310}, {-10, 310}, 1, 1, [](double, double) { return -11; });
  const ClosestSurface near(skin);
  const ThinFloor many = thin_floor(floor, near, 1 + 1e-9, {});
  CHECK(many.area_mm2 == Approx(300 * 300));
  CHECK(thin_floor(floor, near, 1, {}).area_mm2 == 0);
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  const ThinFloor single = thin_floor(floor, near, 1 + 1e-9, {});
  CHECK(single.area_mm2 == many.area_mm2);
  CHECK(single.thin == many.thin);
}
