// The land is measured for bodies as for sheets: a panel whose rim, beside the pocket, is 0.3 mm of
// wood under the pocket face while every other wall is 0.9 mm (plain geometry: plates).
#include "wall/sampling/land.h"

#include "base/errors.h"
#include "support/shapes.h"
#include "wall/measure_wall.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <utility>
#include <vector>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

using Profile = std::vector<std::pair<double, double>>; // radius, z

/// The profile turned about z.
TriMesh lathe(const Profile& profile, int around = 96) {
  TriMesh mesh;
  std::vector<std::uint32_t> first;
  for (const auto& [r, z] : profile) {
    first.push_back(static_cast<std::uint32_t>(mesh.vertices.size()));
    for (int i = 0; i < (r > 0 ? around : 1); ++i) {
      const double a = 2 * std::numbers::pi * i / around;
      mesh.vertices.push_back({r * std::cos(a), r * std::sin(a), z});
    }
  }
  for (std::size_t k = 0; k + 1 < profile.size(); ++k)
    for (int i = 0; i < around; ++i) {
      const auto at = [&](std::size_t row, int j) {
        return first[row] + (profile[row].first > 0 ? static_cast<std::uint32_t>(j % around) : 0);
      };
      const std::uint32_t a = at(k, i), b = at(k, i + 1), c = at(k + 1, i + 1), d = at(k + 1, i);
      if (a != b)
        mesh.triangles.push_back({a, b, c});
      if (c != d)
        mesh.triangles.push_back({a, c, d});
    }
  return mesh;
}

/// With the flat on top from the middle outwards.
Profile closed(Profile p) {
  p.insert(p.begin(), {0, p[0].second});
  return p;
}

WallMeasurement measure(const TriMesh& pocket, const TriMesh& skin, double rim_depth_mm = 0) {
  MeasureOptions options;
  options.ceiling_mm = 1.5;
  options.land = true;
  options.rim_depth_mm = rim_depth_mm;
  return measure_wall(pocket, skin, options, {});
}

const Profile kSkin = {{30, -0.3}, {26, -0.3}, {22, -10}, {0, -10}};
const Profile kSkinBody = {{0, 0}, {30, 0}, {30, -0.3}, {26, -0.3}, {22, -10}, {0, -10}};
const Profile kPocket = {{21, 0}, {19, -9.1}, {0, -9.1}};
const Profile kPocketWithFace = {{30, 0}, {21, 0}, {19, -9.1}, {0, -9.1}};

} // namespace

TEST_CASE(
    "a rim of 0.3 mm beside the pocket: the same wall for sheets, plug, cavity, taller plug") {
  const Profile taller = {{21 + 2 * 2 / 9.1, 2}, {21, 0}, {19, -9.1}, {0, -9.1}};
  const TriMesh sheets = lathe(kPocketWithFace), plug = lathe(closed(kPocket)),
                tall = lathe(closed(taller)), open = lathe(kPocket);
  const TriMesh body = lathe(kSkinBody), sheet = lathe(kSkin);
  const std::pair<TriMesh, TriMesh> pairs[] = {
      {sheets, sheet},
      {plug, body},
      {flipped_facets(plug), body},
      {plug, flipped_facets(body)},
      {tall, body},
      {open, body},
      {plug, sheet},
      {sheets, body},
  };
  for (std::size_t i = 0; i < std::size(pairs); ++i) {
    CAPTURE(i);
    const WallMeasurement m = measure(pairs[i].first, pairs[i].second);
    CHECK(m.least.wall_mm == Approx(0.3).epsilon(1e-9));
    CHECK(m.least.skin.z == Approx(-0.3));
    CHECK(m.least.n.z == Approx(-1));
    double thinnest = 9;
    for (const WallSample& s : m.skin.samples)
      thinnest = std::min(thinnest, s.wall_mm);
    CHECK(thinnest == Approx(0.3).epsilon(1e-9));
  }
}

TEST_CASE("upright sides, steep rims and a lowered lip are no land") {
  // Boxes 0.9 mm apart; a cone of 60 degrees; a block with a step in its upper side.
  CHECK(measure(box({-20, -15, -9}, {20, 15, 0}), box({-20.9, -15.9, -9.9}, {20.9, 15.9, 0}))
            .least.wall_mm == Approx(0.9).epsilon(1e-9));
  const double slope = std::tan(60 * std::numbers::pi / 180),
               apart = 0.9 / std::sin(60 * std::numbers::pi / 180);
  const Profile cone = {{30, 0}, {30 - 10 / slope, -10}, {0, -10}};
  const Profile within = {{30 - apart, 0}, {30 - apart - 9.1 / slope, -9.1}, {0, -9.1}};
  const double least = measure(lathe(closed(within)), lathe(closed(cone))).least.wall_mm;
  CHECK(least > 0.89);
  CHECK(least < 0.901);
  const Profile lip = {{0, 0}, {24, 0}, {24, -0.4}, {30, -0.4}, {30, -10}, {0, -10}};
  CHECK(measure(lathe(closed({{20, 0}, {20, -9.1}, {0, -9.1}})), lathe(lip)).least.wall_mm ==
        Approx(0.9).epsilon(1e-9));
}

TEST_CASE("a V groove from the skin's side leaves the land over its bottom, whatever its angle") {
  // A plug of radius 10 in a board of 12 mm; the groove's bottom lies 0.2 mm under the face.
  for (const double slope : {0.5, 1.0, 1.0001, std::sqrt(3.0), 3.0}) {
    CAPTURE(slope);
    const double half = 11.8 / slope, half_at_top = std::max(1e-3, half);
    TriMesh groove;
    const double x[] = {-30, 16 - std::min(half_at_top, 5.0), 16, 16 + std::min(half_at_top, 5.0),
                        60};
    const double bottom = -0.2 - slope * std::min(half_at_top, 5.0);
    const double z[] = {bottom, bottom, -0.2, bottom, bottom};
    for (std::uint32_t i = 0; i < 5; ++i)
      for (const double y : {-30.0, 30.0})
        groove.vertices.push_back({x[i], y, z[i]});
    for (std::uint32_t i = 0; i < 4; ++i) {
      groove.triangles.push_back({2 * i, 2 * i + 2, 2 * i + 3});
      groove.triangles.push_back({2 * i, 2 * i + 3, 2 * i + 1});
    }
    const TriMesh plug = lathe(closed({{10, 0}, {9, bottom + 0.9}, {0, bottom + 0.9}}));
    const WallMeasurement m = measure(plug, groove);
    CHECK(m.least.wall_mm == Approx(0.2).epsilon(1e-6));
    CHECK(m.least.skin.x == Approx(16));
  }
}

TEST_CASE("a feather edge runs out to nothing, and a stated rim is left out and told") {
  // A lens of 30 degrees: its edge is 0 thick; under 2 mm below the face the walls are 0.9 mm.
  const double t = std::tan(30 * std::numbers::pi / 180);
  const Profile lens = {{30, 0}, {30 - 10 / t, -10}, {0, -10}};
  const Profile in = {{26, 0}, {26, -1}, {28.5 - 9 / t, -8}, {0, -8}};
  const TriMesh plug = lathe(closed(in)), body = lathe(closed(lens));
  CHECK(measure(plug, body).least.wall_mm == Approx(0.001));
  const WallMeasurement m = measure(plug, body, 2.5);
  REQUIRE(m.rim.has_value());
  CHECK(m.least.wall_mm > 0.3);
  CHECK(m.rim->least_wall_mm < m.least.wall_mm);
  // Side of a cone between the radii 30 and 30 - 2.5 / t: pi (r1 + r2) slant.
  const double r2 = 30 - 2.5 / t;
  CHECK(m.rim->area_mm2 ==
        Approx(std::numbers::pi * (30 + r2) * 2.5 / std::sin(std::numbers::pi / 6)).epsilon(0.002));
  for (const WallSample& s : m.skin.samples)
    CHECK(s.at.z <= -2.5 + 1e-9);
}

TEST_CASE("a stated rim leaves every deeper wall as it is, to the depth stated") {
  // Bowls about one middle, 0.9 mm apart, the pocket wider by a step that leaves 0.3 mm down to 3
  // mm.
  const Profile skin = {{25, 0}, {25, -20}, {0, -20}};
  const Profile pocket = {{24.7, 0}, {24.7, -3}, {24.1, -3}, {24.1, -19.1}, {0, -19.1}};
  const TriMesh p = lathe(closed(pocket), 720), s = lathe(closed(skin), 720);
  CHECK(measure(p, s).least.wall_mm == Approx(0.3).epsilon(0.001));
  CHECK(measure(p, s, 2.9).least.wall_mm == Approx(0.3).epsilon(0.001));
  const WallMeasurement m = measure(p, s, 3.9);
  CHECK(m.least.wall_mm == Approx(0.9).epsilon(0.001));
  CHECK(m.rim->least_wall_mm == Approx(0.3).epsilon(0.001));
  CHECK_THROWS_AS(measure(p, s, 21), InputError);
}
