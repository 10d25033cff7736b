// Upright cuts through pockets of known shape.
#include "report/pour/pour_section.h"

#include "pour/wet_surface.h"
#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

TEST_CASE("air over and beside a point: bowl, box, an overhang, a sheet") {
  const WetSurface wet = wet_surface(bowl({0, 0, 0}, 20, 256, 128), 0);
  const SectionPieces pieces = mesh_section(wet.mesh, {{0, 0.013, 0}, 1, 0});
  const auto over = air_over(pieces, 7, 0);
  REQUIRE(over.size() == 1);
  CHECK(over[0][0] == Approx(-std::sqrt(400 - 49)).epsilon(1e-3));
  CHECK(over[0][1] == 0);
  const auto at = air_at(pieces, -12);
  REQUIRE(at.size() == 1);
  CHECK(at[0][1] == Approx(16).epsilon(1e-3));
  CHECK(at[0][0] == Approx(-16).epsilon(1e-3));
  CHECK(air_over(pieces, 25, 0).empty());
  CHECK(air_at(pieces, -21).empty());
  // A ring that is all under the face: air between floor and ceiling, twice across.
  const SectionPieces ring =
      mesh_section(torus({0, 0, -20}, 15, 4, 128, 64), {{0, 0.013, 0}, 1, 0});
  const auto tube = air_over(ring, 15, 0);
  REQUIRE(tube.size() == 1);
  CHECK(tube[0][0] == Approx(-24).epsilon(1e-2));
  CHECK(tube[0][1] == Approx(-16).epsilon(1e-2));
  CHECK(air_at(ring, -20.001).size() == 2);
  const SectionBox box = section_box(ring);
  CHECK(box.high.along_mm == Approx(19).epsilon(1e-2));
  CHECK(box.low.z_mm == Approx(-24).epsilon(1e-2));
  CHECK(section_box({}).empty());
}

TEST_CASE("a section is drawn with what the skin reaches beyond the pocket, up to a share") {
  PourSection section;
  section.pocket = {{{{-20, 0}, {0, -10}}}, {{{0, -10}, {20, 0}}}};
  // A tenth of 40 mm and 1 mm: at most 5 mm beyond the pocket.
  section.skin = {{{{-23, 0}, {30, -30}}}};
  const SectionBox box = shown_box(section, 0.1);
  CHECK(box.low.along_mm == Approx(-23));
  CHECK(box.high.along_mm == Approx(25));
  CHECK(box.low.z_mm == Approx(-15));
  CHECK(box.high.z_mm == Approx(0));
  section.skin.clear();
  const SectionBox alone = shown_box(section, 0.1);
  CHECK(alone.low.along_mm == Approx(-20));
  CHECK(alone.high.along_mm == Approx(20));
  CHECK(alone.low.z_mm == Approx(-10));
}
