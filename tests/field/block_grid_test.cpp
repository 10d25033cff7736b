// The grid that guides where there is no OpenVDB, against OpenVDB's: every answer is the same.
#include "field/block_grid.h"

#include "field/distance_field.h"
#include "spatial/closest_surface.h"

#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

namespace {

/// A bowl of n by n squares, with a tall spike and a facet far away.
TriMesh bowl(int n) {
  TriMesh mesh;
  for (int i = 0; i <= n; ++i)
    for (int j = 0; j <= n; ++j) {
      const double x = 40.0 * i / n - 20, y = 40.0 * j / n - 20;
      mesh.vertices.push_back({x, y, 0.02 * (x * x + y * y) - 15});
    }
  const auto at = [n](int i, int j) { return static_cast<std::uint32_t>(i * (n + 1) + j); };
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) {
      mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
      mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
    }
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  for (const Vec3 v : {Vec3{-3, 2, -14}, Vec3{-2, 2, -14}, Vec3{-2.5, 2, 30}, Vec3{90, 90, 90},
                       Vec3{91, 90, 90}, Vec3{90, 91, 90}})
    mesh.vertices.push_back(v);
  mesh.triangles.push_back({first, first + 1, first + 2});
  mesh.triangles.push_back({first + 3, first + 4, first + 5});
  return mesh;
}

} // namespace

TEST_CASE("block grid: the same band, the same bounds and distances as OpenVDB's") {
  const TriMesh mesh = bowl(17);
  const ClosestSurface surface(mesh);
  const auto in_air = [](Vec3 p) { return p.z > 0.02 * (p.x * p.x + p.y * p.y) - 15; };
  for (const auto& [voxel, band] : {std::pair{0.9, 4.0}, {0.35, 4.0}, {2.0, 2.0}}) {
    CAPTURE(voxel);
    const DistanceField peer(surface, in_air, {voxel, band}, {});
    VoxelGridInput input;
    input.triangles = mesh.triangles.size();
    input.origin = mesh.box().middle();
    input.voxel_mm = voxel;
    input.band_voxels = static_cast<int>(std::ceil(band / voxel));
    input.corners = [&](std::uint32_t i) { return surface.corners(i); };
    input.distance = [&](Vec3 p, std::optional<std::uint32_t>& hint) {
      const SurfaceHit hit = surface.nearest(p, hint);
      hint = hit.triangle;
      return hit.distance;
    };
    input.in_air = in_air;
    const BlockGrid ours(input, {});
    if (voxel > 0.5)
      CHECK(ours.voxels() == peer.voxels());
    std::mt19937_64 numbers(11);
    std::uniform_real_distribution<double> side(-28, 28), height(-24, 40);
    std::size_t inside = 0;
    for (int i = 0; i < 20'000; ++i) {
      const Vec3 p = i % 50 == 0 ? Vec3{90 + 0.1 * side(numbers), 90.5, 90}
                                 : Vec3{side(numbers), side(numbers), height(numbers)};
      REQUIRE(ours.at_least(p) == peer.at_least(p));
      REQUIRE(ours.at_voxel(p) == peer.at_voxel(p));
      inside += ours.at_voxel(p).has_value();
    }
    CHECK(inside > 500);
    CHECK(inside < 19'500);
    CHECK(ours.at_least({1e12, 0, 0}) == peer.at_least({1e12, 0, 0}));
  }
}
