// The outline at the pocket face against bodies whose outline is known.
#include "parts/rim.h"

#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using doctest::Approx;

namespace {

double around(const Rim& rim) {
  double sum = 0;
  for (const RimPoint& p : rim.points)
    sum += p.length_mm;
  return sum;
}

} // namespace

TEST_CASE("the rim of a box is its four sides, square on the face, closed") {
  const Rim rim = rim_of(shapes::box({-40, -30, -20}, {40, 30, 5}), 5);
  CHECK(around(rim) == Approx(2 * (80 + 60)));
  CHECK(rim.flat_mm == 0);
  for (const RimPoint& p : rim.points) {
    CHECK(p.at.z == 5);
    CHECK(p.n.z == Approx(0));
    // Outwards from the middle.
    CHECK(p.n.x * p.at.x + p.n.y * p.at.y > 0);
  }
}

TEST_CASE("the rim of half a sphere is its great circle, however coarse the facets are") {
  // A polygon of n sides in a circle of radius r: 2 n r sin(pi / n); 0.02 mm deeper it is shorter
  // by a hair.
  const Rim rim = rim_of(shapes::bowl({0, 0, 0}, 30, 48, 24), 0);
  CHECK(around(rim) == Approx(2 * 48 * 30 * std::sin(std::numbers::pi / 48)).epsilon(1e-3));
}

TEST_CASE("a skin that ends under the pocket face has no rim, and one that runs out flat is told") {
  const TriMesh box = shapes::box({-40, -30, -20}, {40, 30, -0.5});
  CHECK(rim_of(box, 0).points.empty());
  // A ramp of 1 in 10 through the face: a facet normal with a tenth of it in the plane.
  const TriMesh ramp =
      shapes::sheet({-10, 10}, {-5, 5}, 4, 4, [](double x, double) { return x / 10; });
  const Rim rim = rim_of(ramp, 0);
  CHECK(rim.points.empty());
  CHECK(rim.flat_mm == Approx(10));
}
