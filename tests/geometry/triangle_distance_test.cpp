// Distances between points, segments and triangles against brute force over dense samples and
// against cases that can be worked by hand.
#include "geometry/triangle_distance.h"

#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using doctest::Approx;

namespace {

Vec3 random_point(std::mt19937& random, double size) {
  std::uniform_real_distribution<double> in(-size, size);
  return {in(random), in(random), in(random)};
}

Vec3 inside(const TriangleCorners& t, int i, int j, int n) {
  const double u = static_cast<double>(i) / n, v = static_cast<double>(j) / n;
  return t[0] * (1 - u - v) + t[1] * u + t[2] * v;
}

} // namespace

TEST_CASE("point to triangle: face, edge, corner, needle") {
  const TriangleCorners t{Vec3{0, 0, 0}, Vec3{4, 0, 0}, Vec3{0, 3, 0}};
  CHECK(closest_point({1, 1, 5}, t) == Vec3{1, 1, 0});
  CHECK(closest_point({2, -2, 1}, t) == Vec3{2, 0, 0});
  CHECK(closest_point({9, -2, 1}, t) == Vec3{4, 0, 0});
  const Vec3 on_long_edge = closest_point({4, 3, 0}, t);
  CHECK(on_long_edge.x == Approx(2.56)); // 3-4-5 triangle, foot of the far corner
  CHECK(on_long_edge.y == Approx(1.08));
  const TriangleCorners needle{Vec3{0, 0, 0}, Vec3{5, 0, 0}, Vec3{10, 0, 0}};
  CHECK(closest_point({7, 2, 0}, needle) == Vec3{7, 0, 0});
  const TriangleCorners dot{Vec3{1, 1, 1}, Vec3{1, 1, 1}, Vec3{1, 1, 1}};
  CHECK(closest_point({7, 2, 0}, dot) == Vec3{1, 1, 1});
}

TEST_CASE("segments: crossing, parallel, end to end") {
  CHECK(segment_pair({-1, 0, 0}, {1, 0, 0}, {0, -1, 2}, {0, 1, 2}).distance == Approx(2));
  CHECK(segment_pair({0, 0, 0}, {10, 0, 0}, {3, 1, 0}, {20, 1, 0}).distance == Approx(1));
  CHECK(segment_pair({0, 0, 0}, {1, 0, 0}, {4, 4, 0}, {9, 4, 0}).distance == Approx(5));
  CHECK(segment_pair({0, 0, 0}, {0, 0, 0}, {3, 4, 0}, {3, 9, 0}).distance == Approx(5));
}

TEST_CASE("triangle to triangle never exceeds and closely meets the least of dense samples") {
  std::mt19937 random(11);
  for (int round = 0; round < 300; ++round) {
    TriangleCorners a, b;
    const Vec3 shift = random_point(random, 3);
    for (std::size_t i = 0; i < 3; ++i) {
      a[i] = random_point(random, 1);
      b[i] = random_point(random, 1) + shift;
    }
    const NearestPair pair = triangle_pair(a, b);
    REQUIRE(distance(pair.on_first, pair.on_second) == Approx(pair.distance).epsilon(1e-12));
    double least = 1e9;
    const int n = 40;
    for (int i = 0; i <= n; ++i)
      for (int j = 0; i + j <= n; ++j) {
        const Vec3 p = inside(a, i, j, n);
        least = std::min(least, distance(p, closest_point(p, b)));
      }
    REQUIRE(pair.distance <= least + 1e-12);
    REQUIRE(pair.distance >= least - 0.1);
    // Reported points lie on their triangles.
    REQUIRE(distance(pair.on_first, closest_point(pair.on_first, a)) < 1e-9);
    REQUIRE(distance(pair.on_second, closest_point(pair.on_second, b)) < 1e-9);
  }
}

TEST_CASE("triangles that pass through each other have no distance") {
  const TriangleCorners flat{Vec3{-5, -5, 0}, Vec3{5, -5, 0}, Vec3{0, 5, 0}};
  CHECK(triangle_pair(flat, {Vec3{0, 0, -1}, Vec3{0.1, 0, 1}, Vec3{0, 0.1, 1}}).distance == 0);
  CHECK(triangle_pair({Vec3{0, 0, -1}, Vec3{0.1, 0, 1}, Vec3{0, 0.1, 1}}, flat).distance == 0);
  CHECK(triangle_pair(flat, flat).distance == 0);
}
