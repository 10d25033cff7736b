// What pockets have in common, against closed forms and CGAL.
#include "pour/columns.h"

#include "peers/reference_library.h"
#include "pour/volume_below.h"
#include "pour/wet_surface.h"
#include "support/random_shapes.h"

#include <doctest/doctest.h>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

struct Columns {
  ColumnLattice at;
  std::vector<AirColumns> of;
  Columns(const std::vector<TriMesh>& meshes, std::size_t across = 400) {
    at = column_lattice(meshes[0].box(), across, {&meshes[0]});
    for (const TriMesh& mesh : meshes)
      of.push_back(air_columns(wet_surface(mesh, 0).mesh, 0, at, {}));
  }
};

} // namespace

TEST_CASE("columns of a box, with nothing lost or counted twice along its edges") {
  // Every edge of the fine facets and both diagonals lie on lattice lines of the drawing.
  const TriMesh body = subdivided(subdivided(box({-20, -10, -8}, {20, 10, 2})));
  const Columns c({body}, 200);
  CHECK(c.of[0].overlap_mm == 0);
  CHECK(c.of[0].length_mm * c.at.cell_mm2() == Approx(40 * 20 * 8).epsilon(0.02));
  for (std::size_t p = 0; p + 1 < c.of[0].first.size(); ++p)
    CHECK(c.of[0].first[p + 1] - c.of[0].first[p] <= 1);
}

TEST_CASE("random bodies: column sums come to the exact volume") {
  for (const unsigned seed : {1U, 2U, 3U}) {
    const TriMesh body = bumpy_ball(seed, 20, 8, 60);
    const Columns c({body});
    CHECK(c.of[0].overlap_mm == 0);
    CHECK(c.of[0].length_mm * c.at.cell_mm2() ==
          Approx(volume_below(wet_surface(body, 0).mesh, 0, {})).epsilon(0.001));
  }
}

TEST_CASE("a surface that lies on itself is seen, with how much") {
  const TriMesh two = joined(box({0, 0, -10}, {20, 10, 0}), box({15, 2, -6}, {30, 9, 0}));
  const Columns c({two});
  CHECK(c.of[0].overlap_mm * c.at.cell_mm2() == Approx(5 * 7 * 6).epsilon(0.02));
  CHECK(c.of[0].length_mm * c.at.cell_mm2() == Approx(2000 + 630 - 210).epsilon(0.01));
}

TEST_CASE("what a second pocket takes out of the first: nested, leaving it, apart, two of them") {
  const TriMesh room = box({0, 0, -10}, {40, 20, 0}), within = box({5, 5, -6}, {15, 15, 0}),
                leaves = box({35, 5, -6}, {50, 15, 0}), apart = box({60, 0, -5}, {70, 9, 0}),
                crossing = box({10, 5, -4}, {20, 15, 0});
  const Columns c({room, within, leaves, apart, crossing});
  const double cell = c.at.cell_mm2();
  const TakenOut in = taken_out(c.of[0], {&c.of[1]});
  CHECK(in.taken_mm * cell == Approx(600).epsilon(0.02));
  CHECK(in.outside_mm == 0);
  CHECK(in.shared_mm == 0);
  const TakenOut out = taken_out(c.of[0], {&c.of[2]});
  CHECK(out.taken_mm * cell == Approx(5 * 10 * 6).epsilon(0.02));
  CHECK(out.outside_mm > 0);
  CHECK(taken_out(c.of[0], {&c.of[3]}).taken_mm == 0);
  const TakenOut both = taken_out(c.of[0], {&c.of[1], &c.of[4]});
  CHECK(both.taken_mm * cell == Approx(600 + 400 - 5 * 10 * 4).epsilon(0.02));
  CHECK(both.shared_mm * cell == Approx(200).epsilon(0.03));
}

TEST_CASE("two random bodies that cross: CGAL's common volume below the face") {
  const TriMesh a = moved(bumpy_ball(5, 20, 6, 40), {0, 0, -30}),
                b = moved(bumpy_ball(6, 15, 6, 40), {14, 3, -24});
  // Both lie wholly under the face.
  const Columns c({a, b}, 600);
  CHECK(taken_out(c.of[0], {&c.of[1]}).taken_mm * c.at.cell_mm2() ==
        Approx(peers::shared_volume(a, b)).epsilon(0.002));
}

TEST_CASE("columns are the same on any number of threads") {
  const TriMesh body = bumpy_ball(8, 20, 8, 200);
  const Columns many({body});
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  const Columns single({body});
  CHECK(single.of[0].air == many.of[0].air);
  CHECK(single.of[0].length_mm == many.of[0].length_mm);
}

TEST_CASE("many large facets over one another: fewer columns, and an end") {
  TriMesh tall;
  for (std::uint32_t i = 0; i < 4000; ++i) {
    const std::uint32_t first = 3 * i;
    const double z = -1 - 0.001 * i;
    tall.vertices.insert(tall.vertices.end(), {{0, 0, z}, {0, 100, z}, {100, 0, z}});
    tall.triangles.push_back({first, first + 1, first + 2});
  }
  const ColumnLattice few = column_lattice(tall.box(), 300, {&tall}),
                      many = column_lattice(tall.box(), 300, {});
  CHECK(many.nx >= 300);
  CHECK(few.nx < 100);
  CHECK(few.nx * few.ny * 4000 <= 2 * kMostVisits);
  // All of them look down: air 4000 deep, counted once as air.
  const AirColumns air = air_columns(tall, 0, few, {});
  CHECK(air.length_mm * few.cell_mm2() == Approx(5000 * 4.999).epsilon(0.05));
  CHECK(air.overlap_mm > air.length_mm);
}
