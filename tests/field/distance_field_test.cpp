// The field against distances that plain geometry gives.
#include "field/distance_field.h"

#include "base/errors.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <limits>
#include <random>

using namespace leastwall;
using doctest::Approx;

TEST_CASE("field around a box: bounds hold everywhere, signs and values at voxel centres") {
  const TriMesh mesh = shapes::box({-10, -6, -4}, {10, 6, 4});
  const ClosestSurface surface(mesh);
  const auto outside_box = [](Vec3 p) {
    const Vec3 d{std::abs(p.x) - 10, std::abs(p.y) - 6, std::abs(p.z) - 4};
    const Vec3 o{std::max(d.x, 0.0), std::max(d.y, 0.0), std::max(d.z, 0.0)};
    return length(o) + std::min(0.0, std::max({d.x, d.y, d.z}));
  };
  for (const double voxel : {0.3, 0.7, 1.9}) {
    const DistanceField field(surface, [&](Vec3 p) { return outside_box(p) > 0; }, {voxel, 3.0},
                              {});
    CHECK(field.voxels() > 100);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> in(-20, 20);
    std::size_t inside_band = 0;
    for (int i = 0; i < 20000; ++i) {
      const Vec3 p{in(random), in(random), in(random)};
      const double exact = std::abs(outside_box(p)); // closed form for a box
      REQUIRE(field.at_least(p) <= exact + 1e-6);
      if (const auto value = field.at_voxel(p)) {
        ++inside_band;
        // The voxel's centre is at most half its diagonal away.
        REQUIRE(std::abs(*value + outside_box(p)) <= voxel * std::sqrt(3.0) / 2 + 1e-6);
        REQUIRE(field.at_least(p) >= exact - voxel * std::sqrt(3.0) - 1e-6);
      } else {
        REQUIRE(exact >= 3.0);
        REQUIRE(field.at_least(p) >= 3.0);
      }
    }
    CHECK(inside_band > 1000);
  }
}

TEST_CASE("field of an open sheet is as good as that of a closed body") {
  const TriMesh sheet =
      shapes::sheet({-20, 20}, {-20, 20}, 3, 3, [](double, double) { return 0.0; });
  const ClosestSurface surface(sheet);
  const DistanceField field(surface, [](Vec3 p) { return p.z > 0; }, {0.5, 2.0}, {});
  // The voxel's centre is half a voxel away at most, and a voxel higher is a voxel farther.
  for (double z = -1.4; z < 1.0; z += 0.07) {
    const double value = *field.at_voxel({3, -2, z});
    CHECK(std::abs(value + z) <= 0.25 + 1e-6);
    CHECK(*field.at_voxel({3, -2, z + 0.5}) == Approx(value - 0.5).epsilon(1e-6));
  }
}

TEST_CASE("field refuses sizes that make no sense and grids that would not fit") {
  const TriMesh mesh = shapes::box({0, 0, 0}, {100, 100, 100});
  const ClosestSurface surface(mesh);
  const auto air = [](Vec3) { return false; };
  CHECK_THROWS_AS(DistanceField(surface, air, {0, 1}, {}), InputError);
  CHECK_THROWS_AS(DistanceField(surface, air, {1, std::nan("")}, {}), InputError);
  CHECK_THROWS_AS(DistanceField(surface, air, {0.001, 1}, {}), RunError);
}

TEST_CASE("field: a stop passes through the module that fills the grid") {
  const TriMesh mesh = shapes::box({-10, -6, -4}, {10, 6, 4});
  const ClosestSurface surface(mesh);
  RunContext run;
  run.cancelled = [] { return true; };
  CHECK_THROWS_AS(DistanceField(
                      surface, [](Vec3) { return false; }, {1, 3}, run),
                  Cancelled);
}
