// The nearest point of many bits, against all of them one by one and in closed form.
#include "hollow/bit_union.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using doctest::Approx;

namespace {

BallDepths none_on(const Lattice& at) {
  const std::size_t n = at.nx * at.ny;
  return {at,
          std::vector<double>(n, kNoDepth),
          std::vector<BallDepths::Last>(n),
          std::vector<BallDepths::Last>(n),
          {},
          {}};
}

} // namespace

TEST_CASE("one bit: below its middle a ball, above it a shaft") {
  BallDepths depths = none_on({-5, -5, 1, 11, 11});
  depths.middle_z_mm[depths.at.node(5, 5)] = -10; // over x 0, y 0
  const BitUnion bits(depths, 2, 0);
  const auto below = bits.nearest({0, 3, -14}, 100);
  REQUIRE(below);
  CHECK(below->distance_mm == Approx(5 - 2)); // 3, 4, 5
  CHECK(distance(below->point, {0, 3.0 * 2 / 5, -10 - 4.0 * 2 / 5}) < 1e-12);
  const auto beside = bits.nearest({3, 4, -1}, 100);
  REQUIRE(beside);
  CHECK(beside->distance_mm == Approx(5 - 2));
  CHECK(distance(beside->point, {3.0 * 2 / 5, 4.0 * 2 / 5, -1}) < 1e-12);
  CHECK(bits.nearest({1, 1, 0}, 100)->distance_mm == 0);
  CHECK_FALSE(bits.nearest({3, 4, -1}, 2.9));
  CHECK_FALSE(bits.nearest({80, 80, -1}, 20));
}

TEST_CASE("many bits at random: as all of them one by one, from inside and far outside") {
  std::mt19937 draw(7);
  std::uniform_real_distribution<double> any(0, 1);
  BallDepths depths = none_on({-6, -4, 0.5, 25, 17});
  std::vector<Vec3> middles;
  for (std::size_t j = 0; j < depths.at.ny; ++j)
    for (std::size_t i = 0; i < depths.at.nx; ++i) {
      const double x = depths.at.x(i), y = depths.at.y(j);
      if (any(draw) < 0.3) {
        depths.middle_z_mm[depths.at.node(i, j)] = -8 * any(draw);
        middles.push_back({x, y, depths.middle_z_mm[depths.at.node(i, j)]});
      }
      if (any(draw) < 0.1) {
        depths.last_x[depths.at.node(i, j)] = {0.5 * any(draw), -8 * any(draw)};
        const BallDepths::Last& last = depths.last_x[depths.at.node(i, j)];
        middles.push_back({x + last.on_way_mm, y, last.middle_z_mm});
      }
    }
  for (std::size_t node = 0; node <= depths.middle_z_mm.size(); ++node) {
    depths.first_between.push_back(depths.between.size());
    if (node == depths.middle_z_mm.size() || any(draw) > 0.05)
      continue;
    const BallDepths::Between b{0.5 * any(draw), 0.5 * any(draw), -8 * any(draw)};
    depths.between.push_back(b);
    middles.push_back({depths.at.x(node % depths.at.nx) + b.dx_mm,
                       depths.at.y(node / depths.at.nx) + b.dy_mm, b.middle_z_mm});
  }
  const double radius = 0.6;
  const BitUnion bits(depths, radius, 0);
  int outside = 0;
  for (int k = 0; k < 2000; ++k) {
    const Vec3 p{-14 + 28 * any(draw), -12 + 24 * any(draw), -14 + 14 * any(draw)};
    double least = 1e9;
    for (const Vec3 c : middles)
      least = std::min(least, p.z >= c.z ? std::hypot(p.x - c.x, p.y - c.y) - radius
                                         : distance(p, c) - radius);
    const auto near = bits.nearest(p, 1e6);
    REQUIRE(near);
    CHECK(near->distance_mm == Approx(std::max(least, 0.0)).epsilon(1e-9));
    if (least > 0) {
      ++outside;
      CHECK(distance(p, near->point) == Approx(least).epsilon(1e-9));
    }
  }
  CHECK(outside > 500);
}

TEST_CASE("a ball whose middle is above the face takes a cap, and on the face a disc") {
  BallDepths depths = none_on({-5, -5, 1, 11, 11});
  depths.middle_z_mm[depths.at.node(5, 5)] = 3; // radius 5: a disc of radius 4 on the face
  const BitUnion bits(depths, 5, 0);
  const auto on = bits.nearest({6, 0, 0}, 100);
  REQUIRE(on);
  CHECK(on->distance_mm == Approx(2));
  CHECK(distance(on->point, {4, 0, 0}) < 1e-12);
  // Below the face and outside of the cap's rim: the ball's nearest point is above the face.
  const auto rim = bits.nearest({7, 0, -0.1}, 100);
  REQUIRE(rim);
  CHECK(distance(rim->point, {4, 0, 0}) < 1e-12);
  CHECK(rim->distance_mm == Approx(std::hypot(3, 0.1)));
  const auto under = bits.nearest({0, 0, -3}, 100);
  REQUIRE(under);
  CHECK(distance(under->point, {0, 0, -2}) < 1e-12);
}
