// Cutting polygons: the triangles must cover the area of the outline (shoelace formula) without
// overlap, so all look the same way and their areas add up.
#include "mesh/triangulate_polygon.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

namespace {

double shoelace(const std::vector<Vec3>& p) {
  double sum = 0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Vec3& a = p[i];
    const Vec3& b = p[(i + 1) % p.size()];
    sum += a.x * b.y - b.x * a.y;
  }
  return sum / 2;
}

double area_of(const std::vector<Vec3>& p, const std::vector<Tri>& triangles, double* least) {
  double sum = 0;
  *least = 0;
  for (const Tri& t : triangles) {
    const double area = cross(p[t[1]] - p[t[0]], p[t[2]] - p[t[0]]).z / 2;
    sum += area;
    *least = std::min(*least, area);
  }
  return sum;
}

} // namespace

TEST_CASE("star-shaped outlines of many corners are covered exactly") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> radius(0.2, 1);
  for (std::size_t n = 4; n < 200; n += 7) {
    std::vector<Vec3> p;
    for (std::size_t i = 0; i < n; ++i) {
      const double angle = 2 * std::acos(-1.0) * static_cast<double>(i) / static_cast<double>(n);
      const double r = radius(random);
      p.push_back({r * std::cos(angle), r * std::sin(angle), 0});
    }
    std::vector<Tri> cut;
    REQUIRE(triangulate_polygon(p, cut).ok);
    CHECK(cut.size() == n - 2);
    double least = 0;
    CHECK(area_of(p, cut, &least) == doctest::Approx(shoelace(p)).epsilon(1e-12));
    CHECK(least >= 0);
  }
}

TEST_CASE("corners in a line do not stop the cutting") {
  std::vector<Vec3> p = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {3, 0, 0},
                         {3, 1, 0}, {2, 1, 0}, {1, 1, 0}, {0, 1, 0}};
  std::vector<Tri> cut;
  REQUIRE(triangulate_polygon(p, cut).ok);
  double least = 0;
  CHECK(cut.size() == 6);
  CHECK(area_of(p, cut, &least) == doctest::Approx(3));
  CHECK(least >= 0);
}

TEST_CASE("a convex quadrilateral is cut along its shorter diagonal, in any plane") {
  const std::vector<Vec3> p = {{0, 0, 0}, {0, 4, 1}, {0, 5, 5}, {0, 1, 4}};
  std::vector<Tri> cut;
  REQUIRE(triangulate_polygon(p, cut).ok);
  CHECK(cut == std::vector<Tri>{{0, 1, 3}, {1, 2, 3}});
}
