// A stated pocket face against the flat that the meshes show.
#include "wall/stated_face.h"

#include "support/shapes.h"
#include "wall/measure_wall.h"

#include <doctest/doctest.h>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

WallMeasurement measure(const TriMesh& pocket, const TriMesh& skin, double top_z_mm) {
  MeasureOptions options;
  options.ceiling_mm = 1.5;
  options.top_z_mm = top_z_mm;
  return measure_wall(pocket, skin, options, {});
}

} // namespace

TEST_CASE("a face stated above the flat is told, and the walls are those under the flat") {
  // Nested boxes, 0.9 mm apart on five sides; their lids both lie at z = 0.
  const TriMesh pocket = box({-20, -15, -9}, {20, 15, 0});
  const TriMesh skin = box({-20.9, -15.9, -9.9}, {20.9, 15.9, 0});
  for (const double z : {0.5, 5.0, 400.0}) {
    const WallMeasurement m = measure(pocket, skin, z);
    CHECK(m.least.wall_mm == Approx(0.9).epsilon(1e-9));
    CHECK(m.top_z_mm == Approx(0));
    REQUIRE(m.notices.size() == 1);
    CHECK(m.notices[0].code == "face-disagrees");
    CHECK(m.notices[0].severity == Severity::unproven);
  }
  CHECK(measure(pocket, skin, 5)
            .notices[0]
            .text.starts_with("You said the pocket face is at z = 5.000 mm, the meshes show a flat "
                              "at z = 0.000 mm."));
  // The same with an open skin: the plug's lid is the flat.
  TriMesh open = skin;
  std::erase_if(open.triangles, [&](const Tri& t) {
    return open.vertices[t[0]].z + open.vertices[t[1]].z + open.vertices[t[2]].z > -1e-9;
  });
  REQUIRE(open.triangles.size() == 10);
  CHECK(measure(pocket, open, 5).notices[0].code == "face-disagrees");
}

TEST_CASE("a face stated at the flat, or where bodies are drawn taller, is taken") {
  const TriMesh skin = box({-20.9, -15.9, -9.9}, {20.9, 15.9, 0});
  CHECK(measure(box({-20, -15, -9}, {20, 15, 0}), skin, 0).notices.empty());
  CHECK(measure(box({-20, -15, -9}, {20, 15, 3}), skin, 0).notices.empty());
  const WallMeasurement m = measure(box({-20, -15, -9}, {20, 15, 0}), skin, -2);
  REQUIRE(m.notices.size() == 1);
  CHECK(m.notices[0].code == "face-below-flat");
  CHECK(m.notices[0].severity == Severity::doubt);
  CHECK(m.top_z_mm == Approx(-2));
}
