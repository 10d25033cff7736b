// The tree against the plain loop over all triangles (the slow, obvious oracle).
#include "spatial/closest_surface.h"

#include "base/errors.h"
#include "base/work_count.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

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

TEST_CASE("facets between two planes: as the loop over all of them says") {
  for (const double far : {0.0, 3000.0}) {
    const TriMesh m = soup(7, {far, 0, -far});
    const ClosestSurface surface(m);
    std::mt19937 random(9);
    std::uniform_real_distribution<double> in(-50, 50), reach(0, 12), of(-1, 1);
    int yes = 0, no = 0;
    for (int i = 0; i < 3000; ++i) {
      const Vec3 at = Vec3{far, 0, -far} + Vec3{in(random), in(random), in(random)};
      TriangleCorners t;
      for (Vec3& corner : t)
        corner = at + Vec3{of(random), of(random), of(random)};
      const Vec3 on = at + Vec3{of(random), of(random), of(random)} * 10.0;
      const Vec3 normal = unit(Vec3{of(random), of(random), of(random)});
      const double near = reach(random), low = -3 * reach(random), high = reach(random);
      // Certainly asked are facets as near as told, certainly not those far beyond the circle.
      bool all_near = true, all_nearby = true;
      for (std::uint32_t k = 0; k < 400; ++k) {
        const TriangleCorners facet = surface.corners(k);
        const bool between = std::ranges::all_of(facet, [&](const Vec3& corner) {
          return dot(normal, corner - on) >= low && dot(normal, corner - on) <= high;
        });
        const double d = triangle_pair(t, facet).distance;
        all_near = all_near && (between || d > near);
        all_nearby = all_nearby && (between || d > near + 4);
      }
      const bool said = surface.all_in_slab(t, near, {on, normal, low, high},
                                            [](const TriangleCorners&) { return false; });
      REQUIRE((!said || all_near));
      REQUIRE((said || !all_nearby));
      ++(said ? yes : no);
    }
    CHECK(yes > 500);
    CHECK(no > 500);
  }
}

TEST_CASE("needles that all meet in one point: nearest as the loop says, without asking them all") {
  TriMesh m;
  m.vertices.push_back({0, 0, -10});
  constexpr std::uint32_t kNeedles = 4000;
  for (std::uint32_t i = 0; i < kNeedles; ++i) {
    const double turn = 2 * std::numbers::pi * i / kNeedles;
    m.vertices.push_back({40 * std::cos(turn), 40 * std::sin(turn), 0});
    m.triangles.push_back({0, 1 + i, 1 + (i + 1) % kNeedles});
  }
  const ClosestSurface surface(m);
  std::mt19937 random(5);
  std::uniform_real_distribution<double> in(-30, 30);
  const std::uint64_t before = steps_of_thread;
  std::vector<std::pair<Vec3, double>> found;
  for (int i = 0; i < 200; ++i) {
    const Vec3 p{in(random), in(random), -11 + 0.05 * in(random)};
    found.emplace_back(p, surface.nearest(p).distance);
  }
  CHECK((steps_of_thread - before) / 200 < 200); // boxes along x and y took 800
  for (const auto& [p, distance] : found)
    REQUIRE(std::abs(distance - loop_distance(m, p)) < 1e-9);
}

TEST_CASE("a surface without triangles is refused") {
  CHECK_THROWS_AS(ClosestSurface(TriMesh{}), InputError);
}
