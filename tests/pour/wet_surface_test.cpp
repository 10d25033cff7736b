// Bodies, sheets, holes: what a pocket's mesh says of its volume, and when it says nothing.
#include "pour/wet_surface.h"

#include "pour/volume_below.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;
using Trouble = WetSurface::Trouble;

namespace {

double volume(const WetSurface& wet) {
  return volume_below(wet.mesh, wet.face_z_mm, {});
}

/// Without the facets whose middle `gone` picks.
template <class Gone> TriMesh without(TriMesh mesh, const Gone& gone) {
  std::erase_if(mesh.triangles, [&](const Tri& t) {
    return gone((mesh.vertices[t[0]] + mesh.vertices[t[1]] + mesh.vertices[t[2]]) / 3);
  });
  return mesh;
}

TriMesh fine_box(Vec3 low, Vec3 high) {
  return subdivided(subdivided(subdivided(box(low, high))));
}

} // namespace

TEST_CASE("body, taller body, open sheet, each either way round: one volume and one area") {
  const TriMesh body = fine_box({-10, -5, -8}, {10, 5, 0}),
                tall = fine_box({-10, -5, -8}, {10, 5, 3});
  const TriMesh sheet = without(body, [](Vec3 v) { return v.z > -1e-9; });
  const TriMesh sheet_with_face =
      joined(sheet, without(subdivided(box({-30, -30, -1}, {30, 30, 0})), [](Vec3 v) {
               return v.z < -1e-9 || (std::abs(v.x) < 20 && v.y > -15);
             }));
  for (const TriMesh& mesh :
       {body, tall, sheet, sheet_with_face, flipped_facets(body), flipped_facets(tall),
        flipped_facets(sheet), shuffled(sheet, 5, true)}) {
    const WetSurface wet = wet_surface(mesh, 0);
    CHECK(wet.trouble == Trouble::none);
    CHECK(volume(wet) == Approx(20 * 10 * 8).epsilon(1e-12));
    CHECK(wet.area_mm2 == Approx(20 * 10 + 2 * 8 * (20 + 10)).epsilon(1e-9));
    CHECK(wet.deepest_z_mm == -8);
    CHECK(wet.less_mm3 == 0);
    CHECK(wet.more_mm3 == 0);
  }
  // The face may lie at any height.
  const WetSurface wet = wet_surface(moved(body, {0, 0, 42}), 40);
  CHECK(volume(wet) == Approx(20 * 10 * 6).epsilon(1e-12));
}

TEST_CASE("a small hole is closed, and bounded by what it may hide") {
  const TriMesh body = fine_box({-10, -5, -8}, {10, 5, 0});
  // One of the facets of the floor: 2.5 x 1.25 / 2 mm2.
  TriMesh holed = body;
  for (std::size_t t = 0; t < holed.triangles.size(); ++t) {
    const Tri& tri = holed.triangles[t];
    if (std::ranges::all_of(tri, [&](std::uint32_t v) {
          const Vec3 p = holed.vertices[v];
          return p.z == -8 && std::abs(p.x) < 4 && std::abs(p.y) < 4;
        })) {
      holed.triangles.erase(holed.triangles.begin() + static_cast<std::ptrdiff_t>(t));
      break;
    }
  }
  REQUIRE(holed.triangles.size() + 1 == body.triangles.size());
  const WetSurface wet = wet_surface(holed, 0);
  CHECK(wet.trouble == Trouble::none);
  CHECK(wet.holes == 1);
  CHECK(volume(wet) == Approx(1600).epsilon(1e-12));
  const double area = 2.5 * 1.25 / 2, round = 2.5 + 1.25 + std::hypot(2.5, 1.25);
  CHECK(wet.more_mm3 == Approx(2 * area * area / round).epsilon(1e-9));
  CHECK(wet.less_mm3 == Approx(wet.more_mm3));
  CHECK(wet.at.z == -8);
}

TEST_CASE("no floor, no lower half, an edge far under the face: no volume, and where") {
  const TriMesh body = fine_box({-10, -5, -8}, {10, 5, 0});
  const WetSurface floorless = wet_surface(without(body, [](Vec3 v) { return v.z < -7.9; }), 0);
  CHECK(floorless.trouble == Trouble::open);
  CHECK(floorless.at.z == -8);
  // A sheet whose edge lies 2 mm under the face: resin stands straight over it, or it does not.
  const TriMesh low = without(moved(body, {0, 0, -2}), [](Vec3 v) { return v.z > -2.01; });
  const WetSurface deep = wet_surface(low, 0);
  CHECK(deep.trouble == Trouble::open);
  CHECK(deep.edge_below_mm == Approx(2));
  CHECK(deep.less_mm3 == Approx(400).epsilon(1e-9));
  // 0.3 mm under it is a bound.
  const WetSurface near = wet_surface(low, -1.7);
  CHECK(near.trouble == Trouble::none);
  CHECK(volume(near) == Approx(200 * 8.3).epsilon(1e-9));
  CHECK(near.less_mm3 == Approx(60).epsilon(1e-9));
  CHECK(near.more_mm3 == 0);
  CHECK(near.edge_below_mm == Approx(0.3));
}

TEST_CASE("nothing below the face, edges of three facets, a band with one side") {
  CHECK(wet_surface(box({0, 0, 1}, {4, 4, 5}), 0).trouble == Trouble::nothing_below);
  CHECK(wet_surface(box({0, 0, 0}, {4, 4, 5}), 0).trouble == Trouble::nothing_below);
  CHECK(wet_surface({}, 0).trouble == Trouble::nothing_below);
  TriMesh fin = box({-10, -5, -8}, {10, 5, 0});
  fin.vertices.push_back({0, 0, -4});
  fin.triangles.push_back({fin.triangles[0][0], fin.triangles[0][1],
                           static_cast<std::uint32_t>(fin.vertices.size() - 1)});
  const WetSurface tangled = wet_surface(fin, 0);
  CHECK(tangled.trouble == Trouble::tangled);
  CHECK(tangled.bad_edges == 1);
  TriMesh band; // a Moebius band of 20 quads
  for (int i = 0; i < 20; ++i) {
    const double a = 2 * std::numbers::pi * i / 20;
    for (const double s : {-2.0, 2.0})
      band.vertices.push_back({(10 + s * std::cos(a / 2)) * std::cos(a),
                               (10 + s * std::cos(a / 2)) * std::sin(a), -5 + s * std::sin(a / 2)});
  }
  for (std::uint32_t i = 0; i < 20; ++i) {
    const std::uint32_t a = 2 * i, b = a + 1, c = i == 19 ? 1 : a + 2, d = i == 19 ? 0 : a + 3;
    band.triangles.push_back({a, c, d});
    band.triangles.push_back({a, d, b});
  }
  CHECK(wet_surface(band, 0).trouble == Trouble::tangled);
}
