// The tree against the plain loop over all triangles (the slow, obvious oracle).
#include "spatial/closest_surface.h"

#include "base/errors.h"
#include "support/shapes.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

namespace {

double loop_distance(const TriMesh& m, Vec3 p) {
  double best = 1e300;
  for (const Tri& t : m.triangles)
    best = std::min(best, distance(p, closest_point(p, {m.vertices[t[0]], m.vertices[t[1]],
                                                        m.vertices[t[2]]})));
  return best;
}

TriMesh soup(unsigned seed, Vec3 shift) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> in(-50, 50), size(-4, 4);
  TriMesh m;
  for (std::uint32_t i = 0; i < 400; ++i) {
    const Vec3 at = shift + Vec3{in(random), in(random), in(random)};
    for (int k = 0; k < 3; ++k)
      m.vertices.push_back(at + Vec3{size(random), size(random), size(random)});
    m.triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
  }
  return m;
}

} // namespace

TEST_CASE("nearest point equals the loop's, near and far, with good and bad hints") {
  for (const double far : {0.0, 10000.0}) {
    const TriMesh m = soup(3, {far, -far, far});
    const ClosestSurface surface(m);
    std::mt19937 random(5);
    std::uniform_real_distribution<double> in(-80, 80);
    for (int i = 0; i < 500; ++i) {
      const Vec3 p = Vec3{far, -far, far} + Vec3{in(random), in(random), in(random)};
      const SurfaceHit hit = surface.nearest(p);
      REQUIRE(std::abs(hit.distance - loop_distance(m, p)) < 1e-9);
      const SurfaceHit hinted = surface.nearest(p, static_cast<std::uint32_t>(random() % 400));
      REQUIRE(hinted.distance == hit.distance);
      REQUIRE(hinted.triangle == hit.triangle);
    }
    REQUIRE(surface.nearest(Vec3{far, -far, far} + Vec3{90000, 0, 0}).distance > 80000);
  }
}

TEST_CASE("nearest to a triangle equals the loop over all pairs") {
  const TriMesh m = soup(3, {}), others = soup(4, {});
  const ClosestSurface surface(m);
  for (std::uint32_t k = 0; k < 100; ++k) {
    const TriangleCorners t{others.vertices[3 * k], others.vertices[3 * k + 1],
                            others.vertices[3 * k + 2]};
    double best = 1e300;
    for (std::uint32_t i = 0; i < 400; ++i)
      best = std::min(best, triangle_pair(t, surface.corners(i)).distance);
    const auto pair = surface.nearest_to_triangle(t, 1e6);
    REQUIRE(pair.has_value());
    REQUIRE(std::abs(pair->distance - best) < 1e-12);
    REQUIRE_FALSE(surface.nearest_to_triangle(t, best - 1e-3).has_value());
  }
}

TEST_CASE("a surface without triangles is refused") {
  CHECK_THROWS_AS(ClosestSurface(TriMesh{}), InputError);
}
