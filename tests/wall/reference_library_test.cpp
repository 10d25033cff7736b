// The measured wall against general-purpose libraries (FCL for surface against surface, CGAL for
// points; see peers/reference_library.h) on the demo meshes and on random surfaces.
#include "mesh/load/load_mesh.h"
#include "support/build_kind.h"
#include "support/random_shapes.h"
#include "wall/compare_with_peers.h"

#include <filesystem>

using namespace leastwall;
using namespace leastwall::test;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

TriMesh demo(const char* name) {
  return load_mesh(std::filesystem::path(LEASTWALL_SOURCE_DIR) / "meshes" / name, {}, {}).mesh;
}

/// Without the facets that lie in the plane z = 0.
TriMesh without_flat_on_zero(TriMesh mesh) {
  std::erase_if(mesh.triangles, [&](const Tri& t) {
    return std::all_of(t.begin(), t.end(),
                       [&](std::uint32_t v) { return std::abs(mesh.vertices[v].z) < 1e-6; });
  });
  return mesh;
}

WallMeasurement measure(const TriMesh& pocket, const TriMesh& skin, double ceiling_mm = 1.5) {
  MeasureOptions options;
  options.ceiling_mm = ceiling_mm;
  return measure_wall(pocket, skin, options, {});
}

} // namespace

TEST_CASE("references: gourd lantern, closed bodies with a lid") {
  const TriMesh pocket = demo("gourd_pocket.stl"), skin = demo("gourd_skin.stl");
  const WallMeasurement m = measure(pocket, skin);
  check_against_peers(m, without_flat_on_zero(pocket), without_flat_on_zero(skin), {});
  // meshes/README.md: from a comparison of triangle against triangle that shares no code.
  CHECK(m.least.wall_mm == Approx(0.7222).epsilon(0.001));
}

TEST_CASE("references: leaf light-panel, open sheets") {
  const TriMesh pocket = demo("leaf_back.ply"), skin = demo("leaf_front.ply");
  const WallMeasurement m = measure(pocket, skin);
  check_against_peers(m, pocket, skin, {});
  CHECK(m.least.wall_mm == Approx(1.0599).epsilon(0.001)); // meshes/README.md
}

TEST_CASE("references: random bumpy sheets") {
  for (unsigned seed = 1; seed <= by_build(25u, 5u); ++seed) {
    CAPTURE(seed);
    // Heights are at most 1.5 mm to either side, so 3.2 mm apart they never touch.
    const int cells = 12 + static_cast<int>(seed * 7 % 50);
    const TriMesh pocket = bumpy_sheet(seed, 40, cells, -4, 1.5);
    const TriMesh skin = bumpy_sheet(seed + 1000, 43, 64 - cells / 2, -7.2, 1.5);
    check_against_peers(measure(pocket, skin, 2), pocket, skin, {.ceiling_mm = 2});
    // Turned facets change nothing.
    CHECK(measure(shuffled(pocket, seed, true), flipped_facets(skin), 2).least.wall_mm ==
          Approx(measure(pocket, skin, 2).least.wall_mm).epsilon(1e-12));
  }
}

TEST_CASE("references: nested random bodies, turned in space, with sides told by CGAL") {
  for (unsigned seed = 1; seed <= by_build(25u, 5u); ++seed) {
    CAPTURE(seed);
    const double deg = 13.0 * seed, tilt = 29.0 * seed;
    const TriMesh pocket = turned(bumpy_ball(seed, 15, 0.8, 24 + 2 * int(seed % 9)), deg, tilt);
    const TriMesh skin = turned(bumpy_ball(seed + 500, 17.2, 0.8, 40), tilt, deg);
    const WallMeasurement m = measure(pocket, skin, 2);
    check_against_peers(m, pocket, skin, {.ceiling_mm = 2});
    CHECK(m.ambiguous_points == 0);
  }
}

TEST_CASE("references: bodies that have passed through each other, sign by CGAL") {
  std::size_t cut = 0;
  for (unsigned seed = 1; seed <= by_build(10u, 3u); ++seed) {
    CAPTURE(seed);
    const TriMesh pocket = moved(bumpy_ball(seed, 15, 1.5, 30), {0.9, 0.4, -0.8});
    const TriMesh skin = bumpy_ball(seed + 500, 16, 1, 40);
    const WallMeasurement m = measure(pocket, skin, 2);
    CHECK(m.intersects);
    CHECK(m.least.wall_mm < 0);
    CHECK(peers::mesh_distance(pocket, skin) <= 0); // FCL
    const peers::PointDistance to_pocket(pocket), to_skin(skin);
    for (std::size_t i = 0; i < m.skin.own_samples().size(); i += 1 + m.skin.samples.size() / 400) {
      const WallSample& s = m.skin.samples[i];
      REQUIRE(std::abs(std::abs(s.wall_mm) - to_pocket(s.at)) < 1e-6);
      if (std::abs(s.wall_mm) > 1e-6)
        REQUIRE((s.wall_mm < 0) == to_pocket.inside(s.at)); // the pocket's body is air
      cut += s.wall_mm < 0;
    }
    for (std::size_t i = 0; i < m.pocket.samples.size(); i += 1 + m.pocket.samples.size() / 400) {
      const WallSample& s = m.pocket.samples[i];
      REQUIRE(std::abs(std::abs(s.wall_mm) - to_skin(s.at)) < 1e-6);
      if (std::abs(s.wall_mm) > 1e-6)
        REQUIRE((s.wall_mm < 0) == !to_skin.inside(s.at)); // outside the skin's body is air
    }
  }
  CHECK(cut > 50);
}
