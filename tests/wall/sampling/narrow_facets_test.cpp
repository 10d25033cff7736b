// Narrow facets cut across: the same area, edges that meet, and as many cells as points.
#include "wall/sampling/narrow_facets.h"

#include "support/random_shapes.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <map>
#include <numbers>

using namespace leastwall;
using doctest::Approx;

namespace {

Vec3 area_of(const TriMesh& m) {
  Vec3 sum;
  for (const Tri& t : m.triangles)
    sum += cross(m.vertices[t[1]] - m.vertices[t[0]], m.vertices[t[2]] - m.vertices[t[0]]) / 2.0;
  return sum;
}

double plain_area_of(const TriMesh& m) {
  double sum = 0;
  for (const Tri& t : m.triangles)
    sum +=
        length(cross(m.vertices[t[1]] - m.vertices[t[0]], m.vertices[t[2]] - m.vertices[t[0]])) / 2;
  return sum;
}

/// A flat disc of `n` facets that all meet in the middle.
TriMesh fan(int n, double radius) {
  TriMesh m;
  m.vertices.push_back({0, 0, 0});
  for (int i = 0; i < n; ++i) {
    const double turn = 2 * std::numbers::pi * i / n;
    m.vertices.push_back({radius * std::cos(turn), radius * std::sin(turn), 0});
  }
  for (int i = 0; i < n; ++i)
    m.triangles.push_back(
        {0, static_cast<std::uint32_t>(1 + i), static_cast<std::uint32_t>(1 + (i + 1) % n)});
  return m;
}

std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges(const TriMesh& m) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> found;
  for (const Tri& t : m.triangles)
    for (std::size_t i = 0; i < 3; ++i)
      found[std::minmax(t[i], t[(i + 1) % 3])] += 1;
  return found;
}

} // namespace

TEST_CASE("a fan is cut into rungs: no gaps, all edges short, cells as many as points") {
  const double spacing = 1;
  for (const int n : {200, 2000}) {
    const TriMesh whole = fan(n, 40);
    CHECK(has_narrow_facets(whole, spacing));
    const CutAcross cut = cut_narrow_facets(whole, spacing);
    CHECK(plain_area_of(cut.mesh) == Approx(plain_area_of(whole)).epsilon(1e-12));
    CHECK(area_of(cut.mesh).z == Approx(area_of(whole).z).epsilon(1e-12)); // none turned over
    double longest = 0;
    int open = 0;
    for (const auto& [ends, facets] : edges(cut.mesh)) {
      longest = std::max(longest,
                         distance(cut.mesh.vertices[ends.first], cut.mesh.vertices[ends.second]));
      CHECK(facets <= 2);
      open += facets == 1;
    }
    CHECK(open == n); // the rim of the disc
    CHECK(longest <= std::max(spacing, 2.3 * 2 * std::numbers::pi * 40 / n));
    // 64 steps on each of the two long sides of a facet: halves that are shorter than 0.8.
    const double step = n == 200 ? 2 * 2 * std::numbers::pi * 40 / n : 0.8;
    const double points = std::exp2(std::ceil(std::log2(40 / step)));
    CHECK(cut.mesh.triangles.size() == doctest::Approx(n * (2 * points - 1)).epsilon(0.01));
    CHECK_FALSE(has_narrow_facets(cut.mesh, 2.3 * 2 * std::numbers::pi * 40 / n + spacing));
    for (const auto& [key, middle] : cut.middles) {
      const Vec3 a = cut.mesh.vertices[key >> 32];
      const Vec3 b = cut.mesh.vertices[static_cast<std::uint32_t>(key)];
      REQUIRE(cut.mesh.vertices[middle] == (a + b) * 0.5);
    }
  }
}

TEST_CASE("corners that lie along the side, and facets of no area, are cut as well") {
  TriMesh m;
  m.vertices = {{0, 0, 0}, {10, 0, 0}, {4, 0.1, 0}, {20, 0, 0}, {20, 5, 0}, {20, 9, 0}};
  m.triangles = {{0, 1, 2}, {3, 4, 5}};
  const CutAcross cut = cut_narrow_facets(m, 1);
  CHECK(plain_area_of(cut.mesh) == Approx(plain_area_of(m)).epsilon(1e-12));
  CHECK(area_of(cut.mesh).z == Approx(area_of(m).z).epsilon(1e-12));
  for (const auto& [ends, facets] : edges(cut.mesh))
    CHECK(distance(cut.mesh.vertices[ends.first], cut.mesh.vertices[ends.second]) <= 1);
}

TEST_CASE("plain facets are left alone") {
  const TriMesh m = shapes::sheet({0, 10}, {0, 8}, 2, 2, [](double, double) { return 0.0; });
  CHECK_FALSE(has_narrow_facets(m, 1));
  const CutAcross cut = cut_narrow_facets(m, 1);
  CHECK(cut.mesh.triangles == m.triangles);
  CHECK(cut.middles.empty());
  // Long and narrow, but shorter than the spacing.
  CHECK_FALSE(has_narrow_facets(fan(2000, 40), 41));
}
