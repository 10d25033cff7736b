// The answer is a matter of the two surfaces: not of voxels, the order or look of facets, where
// the piece lies, how finely it is split or how many threads measure it. On the demo meshes.
#include "mesh/load/load_mesh.h"
#include "support/build_kind.h"
#include "support/shapes.h"
#include "wall/measure_wall.h"

#include <cmath>
#include <cstring>
#include <doctest/doctest.h>
#include <filesystem>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::test;
using namespace leastwall::shapes;

namespace {

struct Piece {
  TriMesh pocket, skin;
};

Piece demo(const char* pocket, const char* skin) {
  const std::filesystem::path folder = std::filesystem::path(LEASTWALL_SOURCE_DIR) / "meshes";
  return {load_mesh(folder / pocket, {}, {}).mesh, load_mesh(folder / skin, {}, {}).mesh};
}

Piece gourd() {
  return demo("gourd_pocket.stl", "gourd_skin.stl");
}

Piece leaf() {
  return demo("leaf_back.ply", "leaf_front.ply");
}

WallMeasurement measure(const TriMesh& pocket, const TriMesh& skin, double voxel_mm = 0) {
  MeasureOptions options;
  options.ceiling_mm = 1.2;
  options.fine_spacing_mm = by_build(0.0, 2.0);
  options.voxel_mm = voxel_mm;
  return measure_wall(pocket, skin, options, {});
}

template <class T> bool same_bits(const T& a, const T& b) {
  static_assert(std::is_trivially_copyable_v<T>);
  return std::memcmp(&a, &b, sizeof a) == 0;
}

bool same_bits(const WallMap& a, const WallMap& b) {
  if (a.samples.size() != b.samples.size() || a.cells != b.cells ||
      a.minima.size() != b.minima.size())
    return false;
  for (std::size_t i = 0; i < a.samples.size(); ++i)
    if (!same_bits(a.samples[i].at, b.samples[i].at) ||
        !same_bits(a.samples[i].n, b.samples[i].n) ||
        !same_bits(a.samples[i].wall_mm, b.samples[i].wall_mm))
      return false;
  for (std::size_t i = 0; i < a.minima.size(); ++i)
    if (a.minima[i].sample != b.minima[i].sample || a.minima[i].cell != b.minima[i].cell)
      return false;
  return true;
}

} // namespace

TEST_CASE("unchanged under threads: the same bits of every sample") {
  for (const Piece& piece : {gourd(), leaf()}) {
    const auto with = [&](std::size_t threads) {
      const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
      return measure(piece.pocket, piece.skin);
    };
    const WallMeasurement one = with(1);
    REQUIRE(one.skin.samples.size() > 10000);
    for (const std::size_t threads : {2u, 8u}) {
      const WallMeasurement many = with(threads);
      CHECK(same_bits(one.skin, many.skin));
      CHECK(same_bits(one.pocket, many.pocket));
      CHECK(same_bits(one.least.wall_mm, many.least.wall_mm));
      CHECK(same_bits(one.least.skin, many.least.skin));
      CHECK(same_bits(one.least.pocket, many.least.pocket));
      CHECK(same_bits(one.skin_area_mm2, many.skin_area_mm2));
      CHECK(one.assumptions == many.assumptions);
    }
  }
}

TEST_CASE("unchanged under threads where it is cut through") {
  const Piece piece = leaf();
  const TriMesh pocket = moved(piece.pocket, {0, 0, -1.3}); // deeper than the thinnest wall
  const auto with = [&](std::size_t threads) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    return measure(pocket, piece.skin);
  };
  const WallMeasurement one = with(1), eight = with(8);
  CHECK(one.least.wall_mm < 0);
  CHECK(same_bits(one.least.wall_mm, eight.least.wall_mm));
  CHECK(same_bits(one.least.skin, eight.least.skin));
  CHECK(same_bits(one.skin, eight.skin));
}

TEST_CASE("unchanged under voxel size") {
  for (const Piece& piece : {gourd(), leaf()}) {
    const WallMeasurement plain = measure(piece.pocket, piece.skin);
    for (const double voxel : {0.7, 1.3, 3.0}) {
      CAPTURE(voxel);
      const WallMeasurement guided = measure(piece.pocket, piece.skin, voxel);
      CHECK(same_bits(plain.least.wall_mm, guided.least.wall_mm));
      CHECK(same_bits(plain.least.skin, guided.least.skin));
      CHECK(same_bits(plain.least.n, guided.least.n));
    }
  }
}

TEST_CASE("unchanged under the order and look of facets, motion and subdivision") {
  for (const Piece& piece : {gourd(), leaf()}) {
    const WallMeasurement plain = measure(piece.pocket, piece.skin);
    const auto agrees = [&](const TriMesh& pocket, const TriMesh& skin, double tolerance_mm) {
      const WallMeasurement m = measure(pocket, skin);
      CHECK(std::abs(m.least.wall_mm - plain.least.wall_mm) < tolerance_mm);
      CHECK(std::abs(m.skin_area_mm2 / plain.skin_area_mm2 - 1) < 1e-6);
      CHECK(std::abs(m.left_out_area_mm2 - plain.left_out_area_mm2) < 1e-3);
    };
    agrees(shuffled(piece.pocket, 5), shuffled(piece.skin, 6), 1e-9);
    agrees(shuffled(piece.pocket, 7, true), shuffled(piece.skin, 8, true), 1e-9);
    agrees(flipped_facets(piece.pocket), piece.skin, 1e-9);
    agrees(piece.pocket, flipped_facets(piece.skin), 1e-9);
    // Along z the piece stays as it is cut; it may turn about z and lie anywhere.
    for (const double deg : {31.0, 180.0})
      agrees(moved(turned(piece.pocket, deg), {310, -45, 77}),
             moved(turned(piece.skin, deg), {310, -45, 77}), 1e-9);
    agrees(moved(piece.pocket, {10000, 10000, -10000}), moved(piece.skin, {10000, 10000, -10000}),
           1e-6);
    if (!kSanitized)
      agrees(subdivided(piece.pocket), subdivided(piece.skin), 1e-9);
  }
}

TEST_CASE("open sheets may be tilted a little: the wall is not measured along z") {
  const Piece piece = leaf();
  const double plain = measure(piece.pocket, piece.skin).least.wall_mm;
  for (const double tilt : {3.0, -8.0})
    CHECK(std::abs(
              measure(turned(piece.pocket, 20, tilt), turned(piece.skin, 20, tilt)).least.wall_mm -
              plain) < 1e-9);
}
