// Placing: where known corners go, and that bodies stay bodies.
#include "job/place_mesh.h"

#include "mesh/inspect_mesh.h"
#include "support/shapes.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

Vec3 placed(Vec3 p, const MeshPlacing& placing) {
  TriMesh one;
  one.vertices = {p};
  place_mesh(one, placing);
  return one.vertices[0];
}

} // namespace

TEST_CASE("each up axis becomes z and keeps the hand of the frame") {
  const struct {
    UpAxis up;
    Vec3 axis;
  } rows[] = {{UpAxis::plus_z, {0, 0, 1}}, {UpAxis::minus_z, {0, 0, -1}},
              {UpAxis::plus_x, {1, 0, 0}}, {UpAxis::minus_x, {-1, 0, 0}},
              {UpAxis::plus_y, {0, 1, 0}}, {UpAxis::minus_y, {0, -1, 0}}};
  for (const auto& row : rows) {
    MeshPlacing placing;
    placing.up = row.up;
    CHECK(placed(row.axis, placing) == Vec3{0, 0, 1});
    const Vec3 x = placed({1, 0, 0}, placing), y = placed({0, 1, 0}, placing),
               z = placed({0, 0, 1}, placing);
    CHECK(dot(cross(x, y), z) == 1); // right-handed
  }
}

TEST_CASE("mirror, turn and shift in that order") {
  MeshPlacing placing;
  placing.mirror = Mirror::x;
  placing.turn_deg = 90;
  placing.shift_mm = {10, 20, 30};
  // (2, 3, 4) -> mirrored (-2, 3, 4) -> turned a quarter (-3, -2, 4) -> shifted.
  CHECK(placed({2, 3, 4}, placing) == Vec3{7, 18, 34});
  placing.turn_deg = -270;
  CHECK(placed({2, 3, 4}, placing) == Vec3{7, 18, 34});
  placing.mirror = Mirror::y;
  placing.turn_deg = 30;
  const Vec3 p = placed({2, 3, 4}, placing);
  CHECK(p.x == doctest::Approx(10 + 2 * 0.8660254038 + 3 * 0.5));
  CHECK(p.y == doctest::Approx(20 + 2 * 0.5 - 3 * 0.8660254038));
}

TEST_CASE("mirroring swaps left and right or near and far of the model as it stands") {
  // Whatever axis was up, what is up stays up and the other of the two stays where it is.
  for (const UpAxis up : {UpAxis::plus_z, UpAxis::minus_z, UpAxis::plus_x, UpAxis::minus_x,
                          UpAxis::plus_y, UpAxis::minus_y}) {
    MeshPlacing placing;
    placing.up = up;
    const Vec3 plain = placed({2, 3, 4}, placing);
    placing.mirror = Mirror::x;
    CHECK(placed({2, 3, 4}, placing) == Vec3{-plain.x, plain.y, plain.z});
    placing.mirror = Mirror::y;
    CHECK(placed({2, 3, 4}, placing) == Vec3{plain.x, -plain.y, plain.z});
  }
}

TEST_CASE("a mirrored body still looks outwards") {
  TriMesh body = shapes::box({0, 0, 0}, {1, 2, 3});
  MeshPlacing placing;
  placing.mirror = Mirror::y;
  place_mesh(body, placing);
  CHECK(inspect_mesh(body).components.at(0).signed_volume_mm3 == doctest::Approx(6));
}
