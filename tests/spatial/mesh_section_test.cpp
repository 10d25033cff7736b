// Sections of shapes whose section is known.
#include "spatial/mesh_section.h"

#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using doctest::Approx;

TEST_CASE("a ball cut off its middle is a circle, closed and of the right radius") {
  const TriMesh ball = shapes::sphere({3, 2, -1}, 10, 192, 96);
  // The plane through x 3, y 8 along x: 6 mm from the middle, a circle of radius 8.
  const auto pieces = mesh_section(ball, {{3, 8, 0}, 1, 0});
  double around = 0;
  for (const auto& [a, b] : pieces) {
    around += std::hypot(a.along_mm - b.along_mm, a.z_mm - b.z_mm);
    CHECK(std::hypot(a.along_mm, a.z_mm + 1) == Approx(8).epsilon(0.002));
  }
  CHECK(around == Approx(2 * std::numbers::pi * 8).epsilon(0.003));
}

TEST_CASE("along a slanting direction lengths are those in the plane") {
  const TriMesh box = shapes::box({-10, -10, -4}, {10, 10, 0});
  const double d = std::sqrt(0.5);
  const auto pieces = mesh_section(box, {{0.001, 0, 0}, d, d});
  double most = 0, least = 0, low = 0;
  for (const auto& piece : pieces)
    for (const SectionPoint& p : piece) {
      most = std::max(most, p.along_mm);
      least = std::min(least, p.along_mm);
      low = std::min(low, p.z_mm);
    }
  CHECK(most == Approx(10 * std::sqrt(2.0)).epsilon(0.001));
  CHECK(least == Approx(-10 * std::sqrt(2.0)).epsilon(0.001));
  CHECK(low == -4);
  CHECK(mesh_section(box, {{0, 11, 0}, 1, 0}).empty());
}
