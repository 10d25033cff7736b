#include "job/mesh_numbers.h"

#include "job/read_job.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("each mesh of a job has one number; a part that mirrors another has its meshes") {
  Job job;
  Part half;
  half.pockets.resize(2);
  half.holes.resize(2);
  Part other = half;
  other.mirror_of = 0;
  Part lid;
  lid.pockets.resize(1);
  lid.holes.resize(1);
  job.parts = {half, other, lid};
  const MeshNumbers numbers(job);
  for (const std::size_t part : {0, 1}) {
    CHECK(numbers.of(part, {}) == 0);
    CHECK(numbers.of(part, {PartCut::Kind::pocket, 0}) == 1);
    CHECK(numbers.of(part, {PartCut::Kind::pocket, 1}) == 2);
    // Holes come behind all skins and pockets.
    CHECK(numbers.of(part, {PartCut::Kind::hole, 0}) == 5);
    CHECK(numbers.of(part, {PartCut::Kind::hole, 1}) == 6);
  }
  CHECK(numbers.of(2, {}) == 3);
  CHECK(numbers.of(2, {PartCut::Kind::pocket, 0}) == 4);
  CHECK(numbers.of(2, {PartCut::Kind::hole, 0}) == 7);
}
