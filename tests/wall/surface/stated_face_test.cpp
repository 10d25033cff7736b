// A stated pocket face against the flat that the meshes show.
#include "wall/surface/stated_face.h"

#include "support/shapes.h"
#include "wall/fit/fit_findings.h"
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
            .text.starts_with("You said the pocket face is at z = 5.000 mm, the meshes show it at "
                              "z = 0.000 mm."));
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
  // As good as the flat: the flat itself, to the last digit.
  for (const double z : {-0.009, 0.0011, 0.0099}) {
    const WallMeasurement same = measure(box({-20, -15, -9}, {20, 15, 0}), skin, z);
    CHECK(same.notices.empty());
    CHECK(same.top_z_mm == 0.0);
    CHECK(same.least.wall_mm == Approx(0.9).epsilon(1e-9));
  }
  // What a lower face leaves out is measured: the same wall, or a thinner one.
  const auto said = [](const WallMeasurement& m) {
    for (const Notice& n : fit_findings(m.facts, {0.6, m.least.wall_mm, 0.1}))
      if (n.code == "face-below-flat")
        return n.severity == Severity::unproven ? 2 : 1;
    return 0;
  };
  const WallMeasurement m = measure(box({-20, -15, -9}, {20, 15, 0}), skin, -2);
  CHECK(m.top_z_mm == Approx(-2));
  CHECK(said(m) == 1);
  REQUIRE(m.facts.above_face.has_value());
  CHECK(m.facts.above_face->least_wall_mm == Approx(0.9).epsilon(1e-9));
  // A collar that leaves 0.3 mm down to 1 mm below the flat: as bodies and with an open pocket.
  for (const bool open : {false, true}) {
    TriMesh pocket = box({-20, -15, -9}, {20, 15, 0});
    const TriMesh collar = box({-20.6, -15.6, -1}, {20.6, 15.6, 0});
    pocket = joined(pocket, collar);
    if (open)
      std::erase_if(pocket.triangles, [&](const Tri& t) {
        return pocket.vertices[t[0]].z + pocket.vertices[t[1]].z + pocket.vertices[t[2]].z > -1e-9;
      });
    CHECK(said(measure(pocket, skin, -2)) == 2);
    CHECK(measure(pocket, skin, 0).least.wall_mm == Approx(0.3).epsilon(1e-9));
  }
}

TEST_CASE("a face stated above the flat rim of an open pocket is told as well") {
  // Nothing but sheets: bowls of boxes without their lids.
  const auto open = [](TriMesh m) {
    std::erase_if(m.triangles, [&](const Tri& t) {
      return m.vertices[t[0]].z + m.vertices[t[1]].z + m.vertices[t[2]].z > -1e-9;
    });
    return m;
  };
  const TriMesh pocket = open(box({-20, -15, -9}, {20, 15, 0}));
  const TriMesh skin = open(box({-20.9, -15.9, -9.9}, {20.9, 15.9, 0}));
  const WallMeasurement m = measure(pocket, skin, 1);
  REQUIRE(m.notices.size() == 1);
  CHECK(m.notices[0].code == "face-above-rim");
  CHECK(m.notices[0].severity == Severity::doubt);
  // It leaves a millimetre above the rim unmeasured, where a wall of 0.9 mm ends.
  REQUIRE(m.facts.pocket.ends_below.has_value());
  CHECK(m.facts.pocket.ends_below->by_mm == Approx(1));
  CHECK(m.facts.pocket.ends_below->wall_mm == Approx(0.9));
  CHECK(measure(pocket, skin, 0).notices.empty());
}
