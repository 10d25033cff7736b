// What the tree names, and the surface found with it, against plain loops over all triangles.
#include "spatial/triangle_tree.h"

#include "spatial/closest_surface.h"
#include "spatial/triangle_tree_search.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>
#include <tbb/global_control.h>

using namespace leastwall;

namespace {

TriangleCorners corners_of(const TriMesh& m, const Tri& t) {
  return {m.vertices[t[0]], m.vertices[t[1]], m.vertices[t[2]]};
}

std::vector<double> distances(const TriMesh& m, Vec3 p) {
  std::vector<double> d;
  for (const Tri& t : m.triangles)
    d.push_back(distance(p, closest_point(p, corners_of(m, t))));
  return d;
}

/// Notes what is named, and never narrows the search.
struct Named {
  std::vector<char> seen;
  std::optional<double> operator()(std::uint32_t triangle) {
    seen[triangle] = 1;
    return std::nullopt;
  }
};

/// Triangles within `radius` that the tree does not name.
std::size_t missed(const TriangleTree& tree, const std::vector<double>& d, Vec3 p, double radius) {
  Named named{std::vector<char>(d.size(), 0)};
  tree.search(p, radius, named);
  std::size_t count = 0;
  for (std::size_t i = 0; i < d.size(); ++i)
    count += d[i] <= radius && !named.seen[i] ? 1 : 0;
  return count;
}

/// Asks from points beside the triangles, about the mesh and far away, with radii that just reach.
void check_all_named(const TriMesh& m, unsigned seed, int rounds) {
  const TriangleTree tree(m);
  const ClosestSurface surface(m);
  const Box box = m.box();
  const double size = length(box.size());
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> in(-1, 1);
  std::size_t lost = 0;
  double off = 0;
  for (int i = 0; i < rounds; ++i) {
    const Vec3 any{in(random), in(random), in(random)};
    const Tri& t = m.triangles[random() % m.triangles.size()];
    const Vec3 beside = (m.vertices[t[0]] + m.vertices[t[1]] + m.vertices[t[2]]) / 3.0;
    const Vec3 p = i % 3 == 0   ? beside + any * std::pow(10.0, 3 * in(random)-3)
                   : i % 3 == 1 ? box.middle() + any * size
                                : box.middle() + any * (100 * size);
    const std::vector<double> d = distances(m, p);
    const double least = *std::min_element(d.begin(), d.end());
    for (const double radius : {0.0, least, d[random() % d.size()], 2 * least, 1e300})
      lost += missed(tree, d, p, radius);
    off = std::max(off, std::abs(surface.nearest(p).distance - least));
  }
  CHECK(lost == 0);
  CHECK(off <= 1e-9 * (1 + size));
}

/// `count` triangles whose corners `make` gives.
template <class Make> TriMesh soup(std::uint32_t count, const Make& make) {
  TriMesh m;
  for (std::uint32_t i = 0; i < count; ++i) {
    const TriangleCorners c = make();
    m.vertices.insert(m.vertices.end(), c.begin(), c.end());
    m.triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
  }
  return m;
}

struct Draw {
  std::mt19937 random;
  double size_mm;
  explicit Draw(unsigned seed, double size = 50) : random(seed), size_mm(size) {}
  double number() { return std::uniform_real_distribution<double>(-1, 1)(random); }
  Vec3 point() { return Vec3{number(), number(), number()} * size_mm; }
};

/// A fine slanted sheet a few hundredths thick: two layers of facets that lie nearly in one plane.
TriMesh slanted_patch(Vec3 at, double deg, double tilt_deg) {
  const auto flat = [](double z) {
    return shapes::sheet({-2, 2}, {-2, 2}, 24, 24, [z](double x, double y) {
      return z + 1e-3 * std::sin(9 * x) * std::cos(7 * y);
    });
  };
  return shapes::moved(shapes::turned(shapes::joined(flat(0), flat(0.03)), deg, tilt_deg), at);
}

} // namespace

TEST_CASE("tree: thin slanted patches at the origin and far from it") {
  unsigned seed = 1;
  for (const double far : {0.0, 300.0, 1e5, 9e7})
    for (const double tilt : {0.0, 20.0, 45.0, 54.7, 90.0, 135.0})
      check_all_named(slanted_patch({far, -far, 0.7 * far}, 30 + 17 * tilt, tilt), seed++, 30);
  // Two patches far apart: the box is large and the patches are small in it.
  check_all_named(
      shapes::joined(slanted_patch({}, 10, 35), slanted_patch({2000, -1500, 900}, 70, 50)), 99, 90);
}

TEST_CASE("tree: numbers of triangles about whole leaves and levels, one triangle included") {
  Draw draw(11);
  for (const std::uint32_t n :
       {1u, 2u, 3u, 4u, 5u, 15u, 16u, 17u, 63u, 64u, 65u, 255u, 257u, 1025u})
    check_all_named(
        soup(n,
             [&] {
               const Vec3 at = draw.point();
               return TriangleCorners{at, at + 0.1 * draw.point(), at + 0.1 * draw.point()};
             }),
        n, 24);
}

TEST_CASE("tree: long thin triangles, down to no width at all") {
  for (const double width : {1e-2, 1e-6, 1e-9, 1e-11, 1e-13, 1e-14, 1e-15, 0.0}) {
    CAPTURE(width);
    Draw draw(21);
    check_all_named(soup(150,
                         [&] {
                           const Vec3 a = draw.point(), b = draw.point();
                           const double along = 0.5 + 0.5 * draw.number();
                           return TriangleCorners{a, b, a + (b - a) * along + width * draw.point()};
                         }),
                    31, 150);
  }
}

TEST_CASE("tree: corners apart by the last bit, points, doubled triangles and a size of 1e-80") {
  Draw draw(41);
  const auto nudged = [&](Vec3 p) {
    for (double* x : {&p.x, &p.y, &p.z})
      for (std::uint32_t k = draw.random() % 4; k > 0; --k)
        *x = std::nextafter(*x, draw.number() > 0 ? 1e9 : -1e9);
    return p;
  };
  int i = 0;
  TriMesh m = soup(200, [&] {
    const Vec3 a = draw.point(), b = draw.point();
    switch (i++ % 4) {
    case 0:
      return TriangleCorners{a, b, nudged(a)};
    case 1:
      return TriangleCorners{a, nudged(a), nudged(a)};
    case 2:
      return TriangleCorners{a, a, a};
    default: // edges whose squares lie below the normal numbers
      return TriangleCorners{Vec3{}, 4e-83 * a, 4e-83 * b};
    }
  });
  check_all_named(m, 42, 150);
  const std::vector<Tri> once = m.triangles;
  for (int k = 0; k < 5; ++k)
    m.triangles.insert(m.triangles.end(), once.begin(), once.end());
  check_all_named(m, 43, 60);
  // Equal distances: the lower number.
  for (int k = 0; k < 50; ++k)
    CHECK(ClosestSurface(m).nearest(draw.point()).triangle < once.size());
}

TEST_CASE("tree: the same answers whatever the number of threads that built it") {
  const TriMesh m = shapes::sphere({}, 30, 300, 150); // enough to be arranged side by side
  const auto hits = [&](std::size_t threads) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    const ClosestSurface surface(m);
    Draw draw(51, 40);
    std::vector<std::uint32_t> triangles;
    for (int k = 0; k < 2000; ++k)
      triangles.push_back(surface.nearest(draw.point()).triangle);
    return triangles;
  };
  CHECK(hits(1) == hits(4));
}

TEST_CASE("nearest to a triangle: what lies exactly at the bound is found") {
  // So that of cells that are equally near the first is named, whichever was looked at first.
  Draw draw(61);
  std::size_t lost = 0;
  for (int round = 0; round < 300; ++round) {
    const double tx = draw.number(), ty = draw.number(), gap = 1 + draw.number();
    const auto on = [&](double x, double y, double z) { return Vec3{x, y, z + tx * x + ty * y}; };
    TriMesh plate;
    plate.vertices = {on(-40, -40, gap), on(40, -40, gap), on(0, 60, gap)};
    plate.triangles = {{0, 1, 2}};
    const ClosestSurface surface(plate);
    for (int k = 0; k < 10; ++k) {
      const auto corner = [&](double z) { return on(draw.number(), draw.number(), z); };
      const TriangleCorners t{corner(0), corner(0), corner(k % 2 == 0 ? 0 : -1)};
      const auto pair = surface.nearest_to_triangle(t, 1e6);
      REQUIRE(pair.has_value());
      lost += surface.nearest_to_triangle(t, pair->distance).has_value() ? 0 : 1;
    }
  }
  CHECK(lost == 0);
}
