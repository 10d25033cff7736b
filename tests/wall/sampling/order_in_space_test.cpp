#include "wall/sampling/order_in_space.h"

#include <doctest/doctest.h>

using namespace leastwall;

// The order of a Z-order curve, by hand: x counts first, then y, then z (G. M. Morton, 1966; from
// memory).
TEST_CASE("corners of a cube lie along Morton's curve, x first, then y, then z") {
  TriMesh cube;
  for (int k = 7; k >= 0; --k) // backwards: 7 is all high
    cube.vertices.push_back({k & 1 ? 1.0 : 0.0, k & 2 ? 1.0 : 0.0, k & 4 ? 1.0 : 0.0});
  CHECK(order_in_space(cube, {}) == std::vector<std::uint32_t>{7, 6, 5, 4, 3, 2, 1, 0});
}

TEST_CASE("along Morton's curve a quarter of a square ends before the next begins") {
  TriMesh square;
  for (int y = 0; y < 8; ++y)
    for (int x = 0; x < 8; ++x)
      square.vertices.push_back({double(x), double(y), 0});
  const std::vector<std::uint32_t> order = order_in_space(square, {});
  REQUIRE(order.size() == 64);
  for (std::size_t i = 0; i < 64; ++i) {
    const Vec3 at = square.vertices[order[i]];
    CAPTURE(i);
    CHECK((at.x >= 4) == (i / 16 % 2 == 1));
    CHECK((at.y >= 4) == (i / 32 == 1));
  }
}

TEST_CASE("vertices in one place keep their order") {
  TriMesh mesh;
  mesh.vertices = {{0, 0, 0}, {1, 0, 0}, {0, 0, 0}, {1, 0, 0}};
  CHECK(order_in_space(mesh, {}) == std::vector<std::uint32_t>{0, 2, 1, 3});
}
