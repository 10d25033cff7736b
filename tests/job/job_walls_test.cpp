// Which walls a job has, in which set-ups their cuts are made, and what these share.
#include "job/job_walls.h"

#include "job/read_job.h"
#include "job/start_job.h"

#include <doctest/doctest.h>
#include <string>

using namespace leastwall;

namespace {

Job job_from(const std::string& text) {
  return parse_job(text, {.name = "j.toml", .folder = "demo", .files_must_exist = false});
}

const std::string kHead = R"(
limit = 0.5
[board]
thickness = 30
[side_a]
zero = "top"
touch_point = [-9, 0]
touch_off = 0.05
[side_b]
zero = "bed"
touch_point = [-9, 0]
touch_off = 0.05
[[part]]
name = "left"
skin = "skin.stl"
[[part.pocket]]
name = "room"
mesh = "room.stl"
material = "amber"
)";

} // namespace

TEST_CASE("the whole gourd: walls in three set-ups; the halves share them") {
  const Job job = job_from(whole_gourd_job());
  REQUIRE(job.parts.size() == 2);
  CHECK(job.parts[1].mirror_of == 0);
  CHECK(job.parts[1].on_board == BoardPlacing{true, 180, {0, -58}});
  CHECK(job.parts[0].on_board == BoardPlacing{false, 0, {0, 58}});
  const std::vector<JobWall> walls = walls_of(job, 0);
  REQUIRE(walls.size() == 20); // with a brass pin and a cord hole in each half
  for (const std::size_t half : {0, 1}) {
    const JobWall* const own = &walls[10 * half];
    const JobWall &wood = own[0], &resin = own[1], &dowel = own[2], &between = own[3];
    // The dowel stands in wood: to the skin, and beside the candle room; the ember room lies in
    // resin behind that.
    CHECK(dowel.inner == PartCut{PartCut::Kind::hole, 0});
    CHECK(dowel.outer == PartCut{});
    CHECK_FALSE(dowel.beside);
    CHECK(between.beside);
    CHECK_FALSE(between.setup.of_fill);
    CHECK(between.outer == PartCut{PartCut::Kind::pocket, 0});
    CHECK(dowel.limit_mm == 1.5);
    // The job's set-up, with a touch of the drill's own.
    CHECK(dowel.setup.inner_cut.set_up == 0);
    CHECK(dowel.setup.inner_cut.touch == 2);
    CHECK(dowel.setup.inner.bit.radius.size_mm == 0);
    CHECK(wood.part == half);
    CHECK(wood.outer == PartCut{});
    CHECK(wood.inner == PartCut{PartCut::Kind::pocket, 0});
    CHECK(resin.outer == PartCut{PartCut::Kind::pocket, 0});
    CHECK(resin.inner == PartCut{PartCut::Kind::pocket, 1});
    CHECK_FALSE(wood.setup.of_fill);
    CHECK(resin.setup.of_fill);
    CHECK(wood.setup.inner_cut.side == Side::a);
    CHECK(wood.setup.outer_cut.side == Side::b);
    CHECK(resin.setup.outer_cut == wood.setup.inner_cut); // one cut bounds both
    CHECK(resin.setup.inner_cut.side == Side::a);
    CHECK(resin.setup.inner_cut.set_up == 1);
    CHECK(resin.setup.inner_cut.datum == 0); // zeroed as before, at the same point
    CHECK(resin.setup.inner_cut.bit == 0);   // no bit is stated: the same one
  }
  CHECK(walls[10].same_as == 0);
  CHECK(walls[11].same_as == 1);
  CHECK(walls[13].same_as == 3);
  CHECK_FALSE(walls[0].same_as);
  const std::vector<Assumption> shared = what_set_ups_share(job);
  REQUIRE(shared.size() == 1);
  CHECK(shared[0].text.find("\"ember room\" is cut in a set-up of its own") == 0);
}

TEST_CASE("one pocket with a table of its own is the first set-up, as it always was") {
  const Job job = job_from(kHead + "[part.pocket.side_a]\nzero = \"bed\"\n");
  const std::vector<JobWall> walls = walls_of(job, 0);
  REQUIRE(walls.size() == 1);
  CHECK(walls[0].setup.inner_cut == CutId{.side = Side::a});
  CHECK(walls[0].setup.outer_cut == CutId{.side = Side::b});
  CHECK(walls[0].setup.inner.zero == ZeroFrom::bed);
  CHECK(walls[0].setup.inner.pocket_key == "part.pocket.");
  CHECK(what_set_ups_share(job).empty());
}

TEST_CASE("a bit of its own, a touch point of its own, a moisture of its own") {
  std::string head = kHead;
  head.replace(head.find("thickness = 30"), 14,
               "thickness = 30\nmoisture_gain = 2\nswelling = 0.002");
  const Job job = job_from(head + R"(
[[part.pocket]]
name = "ember"
inside = "room"
mesh = "ember.stl"
limit = 2
moisture_gain = 1.5
[part.pocket.side_a]
touch_point = [-8, 0]
[part.pocket.side_a.bit]
runout = 0.02
)");
  const std::vector<JobWall> walls = walls_of(job, 0);
  REQUIRE(walls.size() == 2);
  const Setup& resin = walls[1].setup;
  CHECK(resin.inner_cut.bit == 1);
  CHECK(resin.inner_cut.datum == 1);
  CHECK(resin.inner_cut.touch_place == 3);
  CHECK(resin.outer_cut.touch_place == 0);
  CHECK(resin.inner.moisture_gain_percent == 1.5);
  CHECK_FALSE(resin.outer.moisture_gain_percent);
  CHECK(resin.inner.pocket_key == "part.pocket[ember].");
  CHECK(resin.inner.touch_off.size_mm == 0.05); // the job's, drawn anew
  CHECK(job.parts[0].pockets[1].limit_mm == 2);
}

TEST_CASE("two parts of one job are cut in the same set-ups unless a pocket says otherwise") {
  const std::string second = R"(
[[part]]
name = "right"
place = [80, 0]
skin = "other.stl"
[[part.pocket]]
mesh = "other_room.stl"
)";
  const std::vector<JobWall> same = walls_of(job_from(kHead + second), 0);
  REQUIRE(same.size() == 2);
  CHECK(same[0].setup.inner_cut == same[1].setup.inner_cut);
  CHECK(same[0].setup.outer_cut == same[1].setup.outer_cut);
  CHECK_FALSE(same[1].same_as);
  const std::vector<JobWall> own =
      walls_of(job_from(kHead + second + "[part.pocket.side_a]\n[part.pocket.side_b]\n"), 0);
  CHECK(own[1].setup.inner_cut.set_up == 1);
  CHECK(own[1].setup.outer_cut.set_up == 1);
  CHECK(own[1].setup.outer_cut.side == Side::b);
}
