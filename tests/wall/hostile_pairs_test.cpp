// Pairs of shapes that no piece has, drawn by seed: each measurement ends, within work that is
// counted, and says what it left open.
#include "base/errors.h"
#include "support/build_kind.h"
#include "support/shapes.h"
#include "wall/left_open.h"
#include "wall/measure_wall.h"
#include "wall/sampling/measure_bounds.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <random>
#include <string>
#include <vector>

using namespace leastwall;
using leastwall::test::by_build;

namespace {

class Draw {
 public:
  explicit Draw(unsigned seed) : random_(seed) {}
  double in(double low, double high) {
    return low + (high - low) * static_cast<double>(random_()) / 4294967296.0;
  }
  int whole(int most) { return static_cast<int>(in(0, most + 1 - 1e-9)); }
  Vec3 place(double size) { return {in(-size, size), in(-size, size), in(-size / 3, 0)}; }

 private:
  std::mt19937 random_;
};

TriMesh facets_of(const std::vector<std::array<Vec3, 3>>& facets) {
  TriMesh m;
  for (const auto& facet : facets) {
    const auto n = static_cast<std::uint32_t>(m.vertices.size());
    m.vertices.insert(m.vertices.end(), facet.begin(), facet.end());
    m.triangles.push_back({n, n + 1, n + 2});
  }
  return m;
}

/// All facets share the first corner.
TriMesh fan(int n, double radius, double hub, double rim) {
  TriMesh m;
  m.vertices.push_back({0, 0, hub});
  for (int i = 0; i < n; ++i) {
    const double a = 2 * std::numbers::pi * i / n;
    m.vertices.push_back({radius * std::cos(a), radius * std::sin(a), rim});
  }
  const auto count = static_cast<std::uint32_t>(n);
  for (std::uint32_t i = 1; i <= count; ++i)
    m.triangles.push_back({0, i, i % count + 1});
  return m;
}

TriMesh strips(int n, double turn, double z) {
  return shapes::turned(
      shapes::sheet({-20, 20}, {-20, 20}, 1, n, [z](double, double y) { return z + 0.01 * y * y; }),
      turn);
}

TriMesh soup(Draw& draw, int n, double size, double thin) {
  std::vector<std::array<Vec3, 3>> facets;
  for (int i = 0; i < n; ++i) {
    const Vec3 a = draw.place(size), b = draw.place(size), c = draw.place(size);
    facets.push_back({a, b, thin < 1 ? a + (b - a) * 0.4 + (c - a) * thin : c});
  }
  return facets_of(facets);
}

TriMesh drawn(Draw& draw) {
  const int n = 20 + draw.whole(by_build(180, 60));
  TriMesh m;
  switch (draw.whole(5)) {
  case 0:
    m = fan(n, 20, draw.in(-10, 0), draw.in(-3, 0));
    break;
  case 1:
    m = strips(n, draw.in(0, 90), draw.in(-5, 0));
    break;
  case 2:
    m = soup(draw, n, 20, 1);
    break;
  case 3:
    m = soup(draw, n, 20, 1e-4);
    break;
  case 4:
    m = shapes::sphere({0, 0, -5}, 10, 12, 8);
    break;
  default: {
    const double z = draw.in(-5, 0);
    m = shapes::sheet({-20, 20}, {-20, 20}, 8, 8, [z](double x, double) { return z + 0.02 * x; });
  }
  }
  switch (draw.whole(4)) {
  case 0:
    m.vertices[m.vertices.size() / 2] = draw.place(1e5);
    break;
  case 1:
    m = shapes::scaled(m, draw.in(0.02, 30));
    break;
  case 2: { // a second one, a hair lower
    const auto first = static_cast<std::uint32_t>(m.vertices.size());
    const std::size_t facets = m.triangles.size();
    for (std::uint32_t i = 0; i < first; ++i)
      m.vertices.push_back(m.vertices[i] - Vec3{0, 0, 1e-4});
    for (std::size_t i = 0; i < facets; ++i)
      m.triangles.push_back(
          {m.triangles[i][0] + first, m.triangles[i][1] + first, m.triangles[i][2] + first});
    break;
  }
  default:
    break;
  }
  return m;
}

} // namespace

TEST_CASE("pairs of hostile shapes end within work that is counted") {
  int measured = 0;
  double most = 0;
  for (unsigned seed = 1; seed <= by_build(200u, 40u); ++seed) {
    CAPTURE(seed);
    Draw draw(seed);
    const TriMesh pocket = drawn(draw);
    TriMesh skin = draw.whole(3) == 0 ? pocket : drawn(draw);
    for (Vec3& v : skin.vertices)
      v.z -= 0.9;
    MeasureOptions options;
    options.ceiling_mm = 1.2;
    options.above_least_mm = 0.5;
    options.land = true;
    options.pocket_map = false;
    options.fine_spacing_mm = std::max(skin.box().size().x, skin.box().size().y) / 60;
    const std::size_t facets = pocket.triangles.size() + skin.triangles.size();
    try {
      const WallMeasurement m = measure_wall(pocket, skin, options, {});
      ++measured;
      CHECK(m.work.steps < 4 * max_steps(facets));
      CHECK(m.work.cells <= max_skin_cells(facets));
      CHECK(m.work.divided <= 2 * max_divided(facets));
      CHECK(left_open_findings(m, {0.8, 0.3, false}).empty() != m.left_open.any());
      // Of a few hundred facets a question meets some, however they lie.
      const auto asked = static_cast<double>(m.work.cells + m.work.divided + facets);
      most = std::max(most, static_cast<double>(m.work.steps) / asked);
      CHECK(static_cast<double>(m.work.steps) < 1500 * asked);
    } catch (const Error& refused) { // nothing below the pocket face
      CHECK(std::string(refused.what()).find("no facets below") != std::string::npos);
    }
  }
  MESSAGE("most steps a cell: " << most);
  CHECK(measured > by_build(150, 30));
}

TEST_CASE("a heap of large loose facets is cut into few cells, and told to be") {
  Draw draw(1);
  const int n = by_build(4000, 1200);
  const TriMesh pocket = shapes::box({-30, -30, -5}, {30, 30, 0}), heap = soup(draw, n, 40, 1);
  MeasureOptions options;
  options.ceiling_mm = 1.2;
  options.pocket_map = false;
  options.fine_spacing_mm = 0.02; // asks for very many
  const WallMeasurement m = measure_wall(pocket, heap, options, {});
  const auto facets = static_cast<std::size_t>(n);
  CHECK(is_heap(facets, 3 * facets));
  CHECK(m.work.cells <= max_cells_of_heap(facets));
  CHECK(m.left_open.unsplit_mm > options.fine_spacing_mm);
  // A closed surface of as many facets is none, nor a strip, nor a few facets that lie apart.
  CHECK_FALSE(is_heap(facets, facets / 2 + 2));
  CHECK_FALSE(is_heap(facets, facets + 2));
  CHECK_FALSE(is_heap(200, 600));
}
