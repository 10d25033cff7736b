// The slow, obvious way beside the fast one: every triangle against every triangle, every point
// against every triangle, columns by going through all facets. Tolerances: rounding where both are
// exact; where a depth is compared with dense samples, the radius of a sample's neighbourhood (a
// distance changes at most as fast as the point moves).
#include "spatial/triangle_distance.h"
#include "support/build_kind.h"
#include "support/random_shapes.h"
#include "wall/measure_wall.h"

#include <algorithm>
#include <doctest/doctest.h>

using namespace leastwall;
using namespace leastwall::test;
using namespace leastwall::shapes;

namespace {

TriangleCorners corners(const TriMesh& m, const Tri& t) {
  return {m.vertices[t[0]], m.vertices[t[1]], m.vertices[t[2]]};
}

double all_pairs(const TriMesh& a, const TriMesh& b) {
  double least = 1e300;
  for (const Tri& s : a.triangles)
    for (const Tri& t : b.triangles)
      least = std::min(least, triangle_pair(corners(a, s), corners(b, t)).distance);
  return least;
}

double point_distance(Vec3 p, const TriMesh& m) {
  double least2 = 1e300;
  for (const Tri& t : m.triangles)
    least2 = std::min(least2, length_squared(p - closest_point(p, corners(m, t))));
  return std::sqrt(least2);
}

/// Does the vertical line through p meet the mesh below (or above) p?
bool covered(Vec3 p, const TriMesh& m, bool below) {
  for (const Tri& t : m.triangles) {
    const TriangleCorners c = corners(m, t);
    const auto side = [&](Vec3 a, Vec3 b) {
      return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    };
    const double u = side(c[1], c[2]), v = side(c[2], c[0]), w = side(c[0], c[1]);
    if (!((u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0)) || u + v + w == 0)
      continue;
    const double z = (u * c[0].z + v * c[1].z + w * c[2].z) / (u + v + w);
    if (below ? z < p.z : z > p.z)
      return true;
  }
  return false;
}

struct Dive {
  double depth_mm = 0; ///< deepest sample in the air of the other sheet
  Vec3 at;
  double radius_mm = 0; ///< no point of the surface is further from a sample
};

/// How deep one open sheet reaches into the air of the other, by `n` steps along every edge.
Dive dense_depth(const TriMesh& here, const TriMesh& there, bool there_is_pocket, int n) {
  Dive dive;
  for (const Tri& t : here.triangles) {
    const TriangleCorners c = corners(here, t);
    dive.radius_mm =
        std::max(dive.radius_mm,
                 std::max({distance(c[0], c[1]), distance(c[1], c[2]), distance(c[2], c[0])}) / n);
    for (int i = 0; i <= n; ++i)
      for (int j = 0; i + j <= n; ++j) {
        const double u = double(i) / n, v = double(j) / n;
        const Vec3 p = c[0] * (1 - u - v) + c[1] * u + c[2] * v;
        if (!covered(p, there, there_is_pocket))
          continue;
        if (const double depth = point_distance(p, there); depth > dive.depth_mm) {
          dive.depth_mm = depth;
          dive.at = p;
        }
      }
  }
  return dive;
}

WallMeasurement measure(const TriMesh& pocket, const TriMesh& skin) {
  MeasureOptions options;
  options.ceiling_mm = 2;
  return measure_wall(pocket, skin, options, {});
}

} // namespace

TEST_CASE("brute force: open sheets, turned facets, mixed facets, ten metres away") {
  for (unsigned seed = 1; seed <= by_build(40u, 8u); ++seed) {
    CAPTURE(seed);
    const TriMesh pocket = bumpy_sheet(seed, 20, 5 + int(seed % 8), -3, 1);
    const TriMesh skin = bumpy_sheet(seed + 300, 22, 4 + int(seed % 7), -5.4, 1);
    const double least = all_pairs(pocket, skin);
    REQUIRE(least > 0);
    CHECK(std::abs(measure(pocket, skin).least.wall_mm - least) < 1e-9);
    CHECK(std::abs(measure(flipped_facets(pocket), skin).least.wall_mm - least) < 1e-9);
    CHECK(std::abs(measure(shuffled(pocket, seed, true), shuffled(skin, seed, true)).least.wall_mm -
                   least) < 1e-9);
    const Vec3 far{10000, -10000, 10000};
    CHECK(std::abs(measure(moved(pocket, far), moved(skin, far)).least.wall_mm - least) < 1e-6);
  }
}

TEST_CASE("brute force: nested closed bodies") {
  for (unsigned seed = 1; seed <= by_build(30u, 6u); ++seed) {
    CAPTURE(seed);
    const TriMesh pocket = turned(bumpy_ball(seed, 6, 0.4, 8 + int(seed % 8)), 40.0 * seed, 17);
    const TriMesh skin = turned(bumpy_ball(seed + 300, 8.4, 0.4, 16), 11, 23.0 * seed);
    const double least = all_pairs(pocket, skin);
    REQUIRE(least > 0);
    for (const Vec3 shift : {Vec3{}, Vec3{-10000, 10000, 10000}}) {
      const WallMeasurement m = measure(moved(pocket, shift), moved(skin, shift));
      CHECK(std::abs(m.least.wall_mm - least) < 1e-6);
    }
    CHECK(std::abs(measure(shuffled(pocket, seed, true), shuffled(skin, seed, true)).least.wall_mm -
                   least) < 1e-9);
  }
}

TEST_CASE("brute force: every sample of small meshes") {
  for (unsigned seed = 1; seed <= by_build(6u, 2u); ++seed) {
    CAPTURE(seed);
    const TriMesh pocket = bumpy_sheet(seed, 20, 7, -3, 1);
    const TriMesh skin = bumpy_sheet(seed + 300, 22, 6, -4, 1); // some cross, some do not
    const WallMeasurement m = measure(pocket, skin);
    for (std::size_t i = 0; i < m.skin.own_samples().size();
         i += 1 + m.skin.samples.size() / 1500) {
      const WallSample& s = m.skin.samples[i];
      REQUIRE(std::abs(std::abs(s.wall_mm) - point_distance(s.at, pocket)) < 1e-9);
      if (std::abs(s.wall_mm) > 1e-9)
        REQUIRE((s.wall_mm < 0) == covered(s.at, pocket, true));
    }
    for (std::size_t i = 0; i < m.pocket.samples.size(); i += 1 + m.pocket.samples.size() / 1500) {
      const WallSample& s = m.pocket.samples[i];
      REQUIRE(std::abs(std::abs(s.wall_mm) - point_distance(s.at, skin)) < 1e-9);
      if (std::abs(s.wall_mm) > 1e-9)
        REQUIRE((s.wall_mm < 0) == covered(s.at, skin, false));
    }
  }
}

TEST_CASE("brute force: depth of a cut-through against dense samples of both sheets") {
  int cut = 0;
  for (unsigned seed = 1; seed <= by_build(18u, 4u); ++seed) {
    CAPTURE(seed);
    const Vec3 shift = seed % 4 == 0 ? Vec3{10000, 10000, -10000} : Vec3{};
    const TriMesh pocket = bumpy_sheet(seed, 20, 6, -3, 1);
    const TriMesh skin = bumpy_sheet(seed + 300, 20, 7, seed % 2 == 0 ? -3 : -3.2 - 0.05 * seed, 1);
    if (all_pairs(pocket, skin) > 0)
      continue;
    ++cut;
    const WallMeasurement m = measure(shuffled(moved(pocket, shift), seed, true),
                                      shuffled(moved(skin, shift), seed, true));
    CHECK(m.intersects);
    CHECK(m.notices.empty()); // the search for the deepest place was not cut short
    const int n = by_build(30, 12);
    const Dive a = dense_depth(skin, pocket, true, n), b = dense_depth(pocket, skin, false, n);
    const double depth = std::max(a.depth_mm, b.depth_mm);
    const double radius = std::max(a.radius_mm, b.radius_mm);
    const Vec3 at = a.depth_mm > b.depth_mm ? a.at : b.at;
    CAPTURE(at.x);
    CAPTURE(at.y);
    CAPTURE(m.least.skin.x);
    CAPTURE(m.least.skin.y);
    CAPTURE(m.notices.size());
    CHECK(-m.least.wall_mm >= depth - 0.0006); // never less deep than a point that was seen
    CHECK(-m.least.wall_mm <= depth + radius);
    // A sample of its own on the cell where it lies, so that it joins the thin place round it.
    const auto own = std::ranges::find_if(m.skin.minima, [&](const WallMap::Minimum& minimum) {
      return m.skin.samples[minimum.sample].at == m.least.skin;
    });
    REQUIRE(own != m.skin.minima.end());
    const Tri& cell = m.skin.cells[own->cell];
    const Vec3 on_cell =
        closest_point(m.least.skin, {m.skin.samples[cell[0]].at, m.skin.samples[cell[1]].at,
                                     m.skin.samples[cell[2]].at});
    CHECK(length(on_cell - m.least.skin) < 1e-6);
  }
  CHECK(cut >= by_build(8, 2));
}
