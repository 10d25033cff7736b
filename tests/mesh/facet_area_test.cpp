#include "mesh/facet_area.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("area of a facet: half the base times the height; none where its corners are in line") {
  const TriMesh mesh{{{1, 1, 5}, {5, 1, 5}, {2, 4, 9}, {9, 1, 5}}, {{0, 1, 2}, {0, 1, 3}}};
  CHECK(facet_area(mesh, mesh.triangles[0]) == doctest::Approx(4 * 5.0 / 2)); // height 3, 4: 5
  CHECK(facet_area(mesh, mesh.triangles[1]) == 0);
}
