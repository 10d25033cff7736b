// Real surfaces: an elevation model as both faces of a panel, and scanned or modelled bodies halved
// at a plane with an eroded copy as their pocket. Compared with FCL and CGAL.
#include "support/build_kind.h"
#include "support/real_data.h"
#include "support/shapes.h"
#include "wall/compare_with_peers.h"

#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::test;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

/// The elevations as a sheet: `pitch_mm` between posts, `relief_mm` from lowest to highest, plus
/// `wall_mm`(column, row); every `stride`-th post.
template <class Wall>
TriMesh relief(const Elevations& e, double pitch_mm, double relief_mm, std::size_t stride,
               const Wall& wall_mm) {
  const auto [low, high] = std::minmax_element(e.metres.begin(), e.metres.end());
  const int nx = static_cast<int>((e.columns - 1) / stride);
  const int ny = static_cast<int>((e.rows - 1) / stride);
  const double step = pitch_mm * static_cast<double>(stride);
  return sheet({0, nx * step}, {0, ny * step}, nx, ny, [&](double x, double y) {
    const auto column = static_cast<std::size_t>(std::lround(x / pitch_mm));
    const auto row = static_cast<std::size_t>(std::lround(y / pitch_mm));
    return relief_mm * (e.at(row, column) - *low) / (*high - *low) - 30 + wall_mm(x, y);
  });
}

WallMeasurement measure(const TriMesh& pocket, const TriMesh& skin, double ceiling_mm) {
  MeasureOptions options;
  options.ceiling_mm = ceiling_mm;
  options.fine_spacing_mm = by_build(0.0, 2.0);
  return measure_wall(pocket, skin, options, {});
}

/// Without the facets that lie in the plane z = top.
TriMesh without_lid(TriMesh mesh, double top) {
  std::erase_if(mesh.triangles, [&](const Tri& t) {
    return std::all_of(t.begin(), t.end(),
                       [&](std::uint32_t v) { return std::abs(mesh.vertices[v].z - top) < 1e-9; });
  });
  return mesh;
}

} // namespace

TEST_CASE("real relief: an elevation model on both faces of a panel, the wall known along z") {
  const Elevations e = fault_elevations();
  REQUIRE(e.rows == 344);
  REQUIRE(e.columns == 403);
  const std::size_t stride = by_build(1u, 4u);
  const TriMesh skin = relief(e, 0.5, 12, stride, [](double, double) { return 0.0; });
  const TriMesh even = relief(e, 0.5, 12, stride, [](double, double) { return 1.2; });
  const TriMesh uneven = relief(e, 0.5, 12, stride, [](double x, double y) {
    return 1.3 + 0.3 * std::sin(x / 17) * std::cos(y / 23);
  });
  const WallMeasurement m = measure(even, skin, 1.3);
  check_against_peers(m, even, skin, {.ceiling_mm = 1.3});
  CHECK(m.least.wall_mm < 1.2);
  // One sheet is the other one moved up by 1.2 mm: that is the wall along z everywhere, and square
  // to a facet it is never more.
  for (std::size_t i = 0; i < m.skin.own_samples().size(); i += 101) {
    const WallSample& s = m.skin.samples[i];
    const auto down = m.straight_down_mm(s.at);
    if (!down) // outermost posts: the column may miss by rounding
      continue;
    CAPTURE(s.at.x);
    CAPTURE(s.at.y);
    REQUIRE(*down == Approx(1.2).epsilon(1e-9));
    REQUIRE(s.wall_mm <= 1.2 + 1e-9);
    REQUIRE(s.wall_mm > 0);
  }
  check_against_peers(measure(uneven, skin, 1.3), uneven, skin, {.ceiling_mm = 1.3});
}

TEST_CASE("real bodies: halved at a plane, the pocket an eroded smoothed copy") {
  for (const char* name : {"bunny00", "man", "elephant"}) {
    CAPTURE(std::string(name));
    const double top = 1.2345;
    const TriMesh body = example_body(name, 120);
    const TriMesh skin = lower_half(body, top);
    const TriMesh pocket = lower_half(eroded(body, 1.6, by_build(2.0, 4.0)), top);
    REQUIRE(pocket.triangles.size() > by_build(2000u, 500u));
    const WallMeasurement m = measure(pocket, skin, 1.5);
    CHECK(m.top_z_mm == Approx(top));
    CHECK(m.left_out_area_mm2 > 0);
    check_against_peers(m, without_lid(pocket, top), without_lid(skin, top), {});
    // The whole pocket lies inside, so every wall is a wall.
    const peers::PointDistance whole(body);
    REQUIRE(whole.inside(m.pocket.samples[0].at));
    for (const WallSample& s : m.skin.own_samples())
      REQUIRE(s.wall_mm > 0);
    for (const WallSample& s : m.pocket.samples)
      REQUIRE(s.wall_mm > 0);
  }
}

TEST_CASE("real bodies: the answer is unchanged by order, look, motion, voxels and threads") {
  const double top = 1.2345;
  const TriMesh body = example_body("bunny00", 120);
  const TriMesh skin = lower_half(body, top);
  const TriMesh pocket = lower_half(eroded(body, 1.6, by_build(2.5, 5.0)), top);
  const WallMeasurement plain = measure(pocket, skin, 1.5);
  const auto same = [&](const WallMeasurement& m, double tolerance_mm) {
    CHECK(std::abs(m.least.wall_mm - plain.least.wall_mm) < tolerance_mm);
    CHECK(m.left_out_area_mm2 == Approx(plain.left_out_area_mm2).epsilon(1e-6));
  };
  same(measure(shuffled(pocket, 3, true), shuffled(skin, 4, true), 1.5), 1e-9);
  same(measure(flipped_facets(pocket), skin, 1.5), 1e-9);
  same(measure(turned(pocket, 73), turned(skin, 73), 1.5), 1e-9);
  same(measure(moved(pocket, {10000, -10000, 500}), moved(skin, {10000, -10000, 500}), 1.5), 1e-6);
  if (!kSanitized)
    same(measure(subdivided(pocket), subdivided(skin), 1.5), 1e-9);
  MeasureOptions guided;
  guided.ceiling_mm = 1.5;
  guided.fine_spacing_mm = by_build(0.0, 2.0);
  guided.voxel_mm = 1.7;
  same(measure_wall(pocket, skin, guided, {}), 1e-12);
  for (const std::size_t threads : {1u, 8u}) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    const WallMeasurement m = measure(pocket, skin, 1.5);
    CHECK(m.least.wall_mm == plain.least.wall_mm);
    CHECK(m.least.skin == plain.least.skin);
    REQUIRE(m.skin.samples.size() == plain.skin.samples.size());
    for (std::size_t i = 0; i < m.skin.samples.size(); ++i) {
      REQUIRE(m.skin.samples[i].at == plain.skin.samples[i].at);
      REQUIRE(m.skin.samples[i].n == plain.skin.samples[i].n);
      REQUIRE(m.skin.samples[i].wall_mm == plain.skin.samples[i].wall_mm);
    }
  }
}
