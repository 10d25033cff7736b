// The closed forms of a ball let down onto facets, held against distances to each facet.
#include "hollow/ball_drop.h"

#include "spatial/triangle_distance.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using doctest::Approx;

namespace {

TriMesh facet(Vec3 a, Vec3 b, Vec3 c) {
  return {{a, b, c}, {{0, 1, 2}}};
}

/// How far a place is outside of what is closed, over all facets, mm.
double room_of(const TriMesh& mesh, const std::vector<double>& reach, Vec3 p) {
  double room = 1e9;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const Tri& k = mesh.triangles[t];
    const Vec3 near =
        closest_point(p, {mesh.vertices[k[0]], mesh.vertices[k[1]], mesh.vertices[k[2]]});
    room = std::min(room, length(near - p) - reach[t]);
  }
  return room;
}

} // namespace

TEST_CASE("a ball let down onto a face, an edge and a corner, by hand") {
  const BallDrop level(facet({0, 0, 1}, {10, 0, 1}, {0, 10, 1}), {2});
  CHECK(level.lowest({3, 3, 20}, -5) == Approx(3));                       // on the face
  CHECK(level.lowest({4, -1.2, 20}, -5) == Approx(1 + 1.6));              // beside an edge: 3 4 5
  CHECK(level.lowest({-0.6, -1, 20}, -5) == Approx(1 + std::sqrt(2.64))); // beside a corner
  CHECK(level.lowest({-1.5, -1.5, 20}, -5) == -5);                        // past it
  CHECK(level.lowest({3, 3, 2.5}, -5) == 2.5);                            // it is closed there
  CHECK(level.lowest({3, 3, -1.5}, -5) == -5);                            // it lies above
  CHECK(level.lowest({3, 3, 20}, 4) == 4);                                // no lower than that
  // A face that rises 1 in 1: sqrt(2) r above it.
  const BallDrop slope(facet({-10, -10, -10}, {10, -10, 10}, {0, 20, 0}), {1});
  CHECK(slope.lowest({0, 0, 30}, -50) == Approx(std::sqrt(2.0)));
  // An upright face is met at its edge alone.
  const BallDrop upright(facet({0, 0, 0}, {10, 0, 0}, {5, 0, 7}), {1});
  CHECK(upright.lowest({5, 0.6, 30}, -50) == Approx(7.8));
  // A facet without area is the line it is.
  const BallDrop line(facet({0, 0, 0}, {10, 0, 0}, {5, 0, 0}), {1});
  CHECK(line.lowest({5, 0.6, 30}, -50) == Approx(0.8));
}

TEST_CASE("a ball let down onto random facets: free all the way, closed just below") {
  std::mt19937 draw(7);
  const auto in = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(draw);
  };
  int stopped = 0, free = 0, closed = 0;
  for (int round = 0; round < 30; ++round) {
    TriMesh mesh;
    std::vector<double> reach;
    for (std::uint32_t t = 0; t < 60; ++t) {
      const Vec3 at{in(-10, 10), in(-10, 10), in(-10, 10)};
      const double size = in(0.1, 6);
      for (int k = 0; k < 3; ++k)
        mesh.vertices.push_back(
            at + Vec3{in(-size, size), in(-size, size), round % 3 == 0 ? 0 : in(-size, size)});
      mesh.triangles.push_back({3 * t, 3 * t + 1, 3 * t + 2});
      reach.push_back(in(0.2, 1.5));
    }
    const BallDrop drop(mesh, reach);
    for (int i = 0; i < 40; ++i) {
      const Vec3 from{in(-14, 14), in(-14, 14), in(-8, 18)};
      const double z = drop.lowest(from, -20);
      REQUIRE(z <= from.z);
      if (room_of(mesh, reach, from) < -1e-8) {
        CHECK(z == from.z);
        ++closed;
        continue;
      }
      for (int k = 0; k <= 40; ++k) {
        const Vec3 on_way{from.x, from.y, z + (from.z - z) * k / 40};
        CHECK(room_of(mesh, reach, on_way) > -1e-6);
      }
      if (z > -20) {
        // Closed by 0.001 mm, less where the ball only brushes past.
        CHECK(room_of(mesh, reach, {from.x, from.y, z - 0.001}) < 1e-9);
        ++stopped;
      } else {
        ++free;
      }
    }
  }
  CHECK(stopped > 300);
  CHECK(free > 100);
  CHECK(closed > 50);
}
