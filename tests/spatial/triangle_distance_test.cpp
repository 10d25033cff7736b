// Distances between points, segments and triangles against brute force over dense samples and
// against cases that can be worked by hand.
#include "spatial/triangle_distance.h"

#include <algorithm>
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

// By definition the nearest point is the plane's own foot where that is in the triangle, and else
// the nearest of all three edges. Obtuse and needle-like triangles, points near and far, over and
// beside.
TEST_CASE("point to triangle: no edge is passed over, whatever the angles") {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> in(-1, 1);
  const auto on_edge = [](Vec3 p, Vec3 a, Vec3 b) {
    const double s = std::clamp(dot(p - a, b - a) / length_squared(b - a), 0.0, 1.0);
    return distance(p, a + (b - a) * s);
  };
  double worst = 0;
  for (int round = 0; round < 60000; ++round) {
    const double height = std::pow(10.0, -round % 9); // over a side of about 1
    const Vec3 a = random_point(random, 1), b = random_point(random, 1);
    const TriangleCorners t{a, b,
                            a + (b - a) * (1.5 * in(random)) + height * random_point(random, 1)};
    const double u = 3 * in(random), v = 3 * in(random);
    const Vec3 normal = unit(cross(t[1] - t[0], t[2] - t[0]));
    const Vec3 p = t[0] + (t[1] - t[0]) * u + (t[2] - t[0]) * v + normal * (2 * in(random));
    double least =
        std::min({on_edge(p, t[0], t[1]), on_edge(p, t[1], t[2]), on_edge(p, t[2], t[0])});
    if (u >= 0 && v >= 0 && u + v <= 1)
      least = std::min(least, std::abs(dot(p - t[0], normal)));
    // The normal of a needle is known that much less well, to either side.
    worst = std::max(worst, height * std::abs(distance(p, closest_point(p, t)) - least));
  }
  CHECK(worst < 1e-14);
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

TEST_CASE("a facet whose area is nothing but rounding: the nearest point is on it") {
  // Corners in a line but for the last bits: whatever plane they seem to span, the answer is the
  // nearest point of the longest side.
  std::mt19937 random(11);
  std::uniform_real_distribution<double> in(-40, 40);
  double off = 0;
  for (int k = 0; k < 2000; ++k) {
    const Vec3 a{in(random), in(random), in(random)}, b{in(random), in(random), in(random)};
    const Vec3 third = a + (b - a) * (0.01 * (k % 101));
    const Vec3 p = k % 2 == 0 ? a + (b - a) * 0.25 : Vec3{in(random), in(random), in(random)};
    const double along = std::clamp(dot(p - a, b - a) / length_squared(b - a), 0.0, 1.0);
    const Vec3 nearest = a + (b - a) * along;
    for (const TriangleCorners& t : {TriangleCorners{a, b, third}, {b, third, a}, {third, b, a}})
      off = std::max(off, distance(nearest, closest_point(p, t)));
  }
  CHECK(off < 1e-9);
}
