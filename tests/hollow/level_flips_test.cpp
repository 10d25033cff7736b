// A lid of four corners whose one ear turns over.
#include "hollow/level_flips.h"

#include <doctest/doctest.h>
#include <utility>

using namespace leastwall;

namespace {

double height(const std::vector<Vec3>& v, const Tri& t) {
  return cross(v[t[1]] - v[t[0]], v[t[2]] - v[t[0]]).z;
}

} // namespace

TEST_CASE("an ear that turned over gets the other diagonal, from either side") {
  // A square with a flat ear at the corner 1, which then moves in over the diagonal from 0 to 2.
  for (const bool up : {true, false}) {
    TriMesh lid;
    lid.vertices = {{0, 0, 0}, {5, -0.1, 0}, {10, 0, 0}, {5, 10, 0}};
    lid.triangles = {{0, 1, 2}, {0, 2, 3}};
    if (!up)
      for (Tri& t : lid.triangles)
        std::swap(t[1], t[2]);
    std::vector<Vec3> to = lid.vertices;
    to[1].y = 1;
    TriMesh kept = lid;
    CHECK(flip_level_facets(kept, lid.vertices, {false, false}).empty());
    CHECK(kept.triangles == lid.triangles);
    const auto changed = flip_level_facets(lid, to, {true, false});
    CHECK(changed.size() == 2);
    for (const Tri& t : lid.triangles)
      CHECK(height(to, t) * (up ? 1 : -1) > 0);
  }
}

TEST_CASE("facets that do not lie level are left alone") {
  TriMesh roof;
  roof.vertices = {{0, 0, 0}, {5, -0.1, 0}, {10, 0, 0}, {5, 10, 4}};
  roof.triangles = {{0, 1, 2}, {0, 2, 3}};
  std::vector<Vec3> to = roof.vertices;
  to[1].y = 1;
  const TriMesh before = roof;
  CHECK(flip_level_facets(roof, to, {true, false}).empty());
  CHECK(roof.triangles == before.triangles);
}
