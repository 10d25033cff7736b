// Facets halved at their longest edges, held against what halving cannot change.
#include "hollow/split_facets.h"

#include "base/errors.h"
#include "mesh/inspect_mesh.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <set>

using namespace leastwall;
using doctest::Approx;

namespace {

constexpr std::size_t kMany = 1'000'000;

TriangleCorners corners(const TriMesh& m, const Tri& t) {
  return {m.vertices[t[0]], m.vertices[t[1]], m.vertices[t[2]]};
}

double longest_edge(const TriangleCorners& t) {
  return std::max({distance(t[0], t[1]), distance(t[1], t[2]), distance(t[2], t[0])});
}

double least_angle(const TriangleCorners& t) {
  double least = std::numbers::pi;
  for (std::size_t i = 0; i < 3; ++i) {
    const Vec3 a = unit(t[(i + 1) % 3] - t[i]), b = unit(t[(i + 2) % 3] - t[i]);
    least = std::min(least, std::acos(std::clamp(dot(a, b), -1.0, 1.0)));
  }
  return least;
}

double area(const TriMesh& m) {
  double sum = 0;
  for (const Tri& t : m.triangles) {
    const TriangleCorners c = corners(m, t);
    sum += length(cross(c[1] - c[0], c[2] - c[0])) / 2;
  }
  return sum;
}

} // namespace

TEST_CASE("a box is cut as finely as asked where it is wanted: area and closedness stay") {
  const TriMesh box = shapes::box({0, 0, 0}, {40, 30, 10});
  const auto wanted = [](const TriangleCorners& t) {
    return std::min({t[0].x, t[1].x, t[2].x}) < 5;
  };
  const SplitMesh split = split_facets(box, 1.0, wanted, kMany, {});
  CHECK(area(split.mesh) == Approx(2 * (40 * 30 + 30 * 10 + 40 * 10)).epsilon(1e-12));
  const MeshFindings findings = inspect_mesh(split.mesh);
  CHECK(findings.sound());
  CHECK(findings.degenerate_dropped == 0);
  double least = std::numbers::pi;
  for (const Tri& t : box.triangles)
    least = std::min(least, least_angle(corners(box, t)));
  std::size_t fine = 0;
  for (const Tri& t : split.mesh.triangles) {
    const TriangleCorners c = corners(split.mesh, t);
    if (wanted(c)) {
      CHECK(longest_edge(c) <= 1.0);
      ++fine;
    }
    CHECK(least_angle(c) >= least / 2 - 1e-9); // Rosenberg and Stenger 1975
  }
  CHECK(fine > 5 * (30 + 10) * 2); // facets of at most half a mm2 over a strip 5 mm wide
  CHECK(split.mesh.triangles.size() < 4 * fine); // and not much beside it
}

TEST_CASE("what is not wanted and beside nothing that is stays where it stood") {
  const TriMesh ball = shapes::sphere({0, 0, 0}, 20, 48, 24);
  const SplitMesh none =
      split_facets(ball, 0.5, [](const TriangleCorners&) { return false; }, kMany, {});
  CHECK(none.mesh.triangles == ball.triangles);
  const SplitMesh some =
      split_facets(ball, 0.5, [](const TriangleCorners& t) { return t[0].z > 18; }, kMany, {});
  std::size_t kept = 0;
  for (std::size_t f = 0; f < ball.triangles.size(); ++f) {
    kept += some.mesh.triangles[f] == ball.triangles[f] ? 1 : 0;
    const TriangleCorners c = corners(ball, ball.triangles[f]);
    if (std::max({c[0].z, c[1].z, c[2].z}) < 10)
      CHECK(some.mesh.triangles[f] == ball.triangles[f]);
  }
  CHECK(kept > ball.triangles.size() / 2);
  CHECK(kept < ball.triangles.size());
  CHECK(
      std::ranges::equal(ball.vertices, std::span(some.mesh.vertices).first(ball.vertices.size())));
}

TEST_CASE("facets that hold a place are cut round it, and each part knows where it is from") {
  const TriMesh box = shapes::box({0, 0, 0}, {40, 30, 10});
  const FacetPlace places[] = {{{31, 4, 0}, 1}, {{31.2, 4.1, 0}, 1}};
  // Which of the two facets of the bottom holds them: by its corners.
  std::vector<FacetPlace> held;
  for (FacetPlace p : places)
    for (std::uint32_t f = 0; f < box.triangles.size(); ++f) {
      const TriangleCorners c = corners(box, box.triangles[f]);
      if (distance(closest_point(p.at, c), p.at) < 1e-9 && held.size() < 2) {
        p.facet = f;
        held.push_back(p);
        break;
      }
    }
  REQUIRE(held.size() == 2);
  const SplitMesh split = split_facets(box, 0.8, held, kMany, {});
  CHECK(area(split.mesh) == Approx(3800).epsilon(1e-12));
  CHECK(inspect_mesh(split.mesh).sound());
  std::set<std::uint32_t> fine_from;
  for (std::size_t f = 0; f < split.mesh.triangles.size(); ++f)
    for (const FacetPlace& p : held) {
      const TriangleCorners c = corners(split.mesh, split.mesh.triangles[f]);
      if (distance(closest_point(p.at, c), p.at) < 1e-9) {
        CHECK(longest_edge(c) <= 0.8);
        fine_from.insert(split.from[f]);
      }
    }
  CHECK(fine_from == std::set<std::uint32_t>{held[0].facet});
  CHECK(split.mesh.triangles.size() < 200);
}

TEST_CASE("more facets than may be: told, not made") {
  const TriMesh box = shapes::box({0, 0, 0}, {40, 30, 10});
  CHECK_THROWS_WITH_AS(
      split_facets(box, 0.01, [](const TriangleCorners&) { return true; }, 1000, {}),
      doctest::Contains("more than 1000 facets"), RunError);
}
