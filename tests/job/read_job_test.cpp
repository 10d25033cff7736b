#include "job/read_job.h"

#include "base/errors.h"
#include "bed/bed_map.h"
#include "job/job_digest.h"
#include "job/job_text.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <string>

using namespace leastwall;
using leastwall::test::digest;
using leastwall::test::JobText;
using leastwall::test::parse;

namespace {

const std::string kJobs = LEASTWALL_SOURCE_DIR "/tests/data/jobs/";

/// A number that went through inches: equal within the last digits.
doctest::Approx about(double v) {
  return doctest::Approx(v).epsilon(1e-9);
}

bool assumes(const Job& job, std::string_view text) {
  return std::any_of(job.assumptions.begin(), job.assumptions.end(),
                     [&](const Assumption& a) { return line_of(a) == text; });
}

} // namespace

// One inch is exactly 25.4 mm, so both files say the same.
TEST_CASE("a job that states every table, in mm and in inches") {
  for (const std::string name : {"every_table_mm.toml", "every_table_inch.toml"}) {
    CAPTURE(name);
    const Job job = read_job(kJobs + name);
    const bool inch = name == "every_table_inch.toml";
    CHECK(job.units == (inch ? LengthUnit::inch : LengthUnit::mm));
    CHECK(job.title == (inch ? "every table, inch" : "every table, mm"));
    CHECK(job.accepted_chance == 0.025);
    CHECK(job.trials == 5000);
    CHECK(job.seed == 7);
    CHECK(job.notices.empty());

    const Board& board = job.board;
    CHECK(*board.assumed_thickness_mm == about(25.4));
    CHECK(*board.measured_thickness_mm == about(25.654));
    CHECK(board.thickness_error.size_mm == about(0.0127));
    CHECK(board.thickness_error.knowledge == Knowledge::standard);
    CHECK(board.variation_mm == about(0.0508));
    REQUIRE(board.footprint);
    CHECK(board.footprint->low.x == about(-127));
    CHECK(board.footprint->low.y == about(-101.6));
    CHECK(board.footprint->high.x == about(127));
    CHECK(board.footprint->high.y == about(101.6));
    CHECK(board.species == "black cherry");
    CHECK(board.grain == Board::Grain::tangential);
    // Wood Handbook, FPL-GTR-190, Table 13-5: black cherry, tangential.
    CHECK(*board.swelling_per_percent == about(0.00248));
    CHECK(board.moisture_change_percent == 1.5);
    CHECK(board.resin_cup_mm == about(0.0762));
    CHECK(*job.pocket_face_z_mm == about(12.7));

    CHECK(*job.bed.readings->height_mm(101.6, 76.2) == about(0.0508));
    CHECK(*job.bed.readings->height_mm(0, -76.2) == about(0.0127));
    CHECK_FALSE(job.bed.flatness_mm);
    CHECK(job.bed.part_origin_mm.x == about(25.4));
    CHECK(job.bed.part_origin_mm.y == about(50.8));
    CHECK(job.bed.reading_error.size_mm == about(0.00254));
    CHECK(job.bed.seating == Seating::rigid);

    REQUIRE(job.flip);
    CHECK(job.flip->line == FlipLine::along_x);
    CHECK(job.flip->at_mm == about(2.54));
    CHECK(job.flip->located_by == LocatedBy::dowels);
    CHECK(job.flip->line_error.size_mm == about(0.0127));
    CHECK(job.flip->out_of_square_mm_per_m == 0.2);
    REQUIRE(job.flip->dowels);
    CHECK(job.flip->dowels->clearance_1_mm == about(0.0254));
    CHECK(job.flip->dowels->clearance_2_mm == about(0.0508));
    CHECK(job.flip->dowels->spacing_mm == about(203.2));
    CHECK(job.flip->dowels->middle->y == about(2.54));
    CHECK(job.flip->dowels->along_flip_line);

    REQUIRE(job.parts.size() == 1);
    const Part& part = job.parts[0];
    CHECK(part.name == "half");
    CHECK(part.skin == std::filesystem::path(kJobs) / "skin.stl");
    CHECK(part.placing.units == LengthUnit::inch);
    CHECK(part.placing.mirror == Mirror::x);
    CHECK(part.placing.up == UpAxis::minus_y);
    CHECK(part.placing.turn_deg == 90);
    CHECK(part.placing.shift_mm.x == about(25.4));
    CHECK(part.placing.shift_mm.z == about(-12.7));
    REQUIRE(part.pockets.size() == 1);
    const Pocket& pocket = part.pockets[0];
    CHECK(pocket.name == "room");
    CHECK(pocket.placing == part.placing);
    CHECK(pocket.limit_mm == about(0.635));
    CHECK(pocket.material == "amber epoxy");
    REQUIRE(pocket.resin);
    CHECK(pocket.resin->ratio == MixRatio{100, 45, true});
    CHECK(*pocket.resin->density_a == 1.15);
    CHECK(*pocket.resin->density_b == 0.95);
    CHECK(*pocket.resin->deepest_lift_mm == about(12.7));
    CHECK(*pocket.resin->hours_between_lifts == 24);
    CHECK(*pocket.resin->hours_until_cut == 72);
    CHECK(*pocket.resin->overage_percent == 10);
    CHECK(*pocket.resin->cup_ml == 400);
    CHECK(*pocket.resin->seal_coat_g_per_m2 == 150);
    CHECK(*pocket.resin->thin_wall_mm == about(1.27));
    REQUIRE(job.pour.start);
    CHECK(clock_time_text(*job.pour.start) == "Sat 2026-03-14 18:00");
    REQUIRE(job.pour.tilt);
    CHECK(job.pour.tilt->slope == about(0.002));
    CHECK(*job.pour.tilt->towards_deg == 90);

    const SideSetup& a = pocket.side_a;
    CHECK(a.zero == ZeroFrom::top);
    CHECK(a.touch_point->x == about(-114.3));
    CHECK(a.touch_point->y == about(88.9));
    CHECK(a.touch_off.size_mm == about(0.0254));
    CHECK(a.touch_off.knowledge == Knowledge::limits);
    CHECK(a.plate_error_mm == about(-0.0127));
    CHECK(a.bit.tip_height.size_mm == about(0.00508));
    CHECK(*a.bit.ball_radius_mm == about(3.175));
    CHECK(a.bit.radius.size_mm == about(0.0254));
    CHECK(a.bit.runout_mm == about(0.0127));
    CHECK(a.bit.zero == BitZero::retouched);
    CHECK_FALSE(a.roughing);
    CHECK_FALSE(a.assumed_thickness_mm);

    const SideSetup& b = pocket.side_b;
    CHECK(b.zero == ZeroFrom::top); // the pocket's own word, the rest is the job's
    CHECK_FALSE(b.touch_point);
    CHECK(b.touch_off.size_mm == about(0.0254));
    CHECK(b.touch_off.knowledge == Knowledge::standard);
    CHECK(*b.assumed_thickness_mm == about(25.527));
    CHECK(b.sanding_mm == about(0.0508));
    CHECK(b.sanding.size_mm == about(0.0254));
    CHECK(b.bit.zero == BitZero::tool_setter);
    CHECK(b.bit.setter.size_mm == about(0.00254));
    REQUIRE(b.roughing);
    CHECK(b.roughing->allowance_mm == about(0.762));
    CHECK(b.roughing->touch_off->size_mm == about(0.0508));

    const Setup setup = setup_of(job, pocket, 99);
    CHECK(setup.top_z_mm == about(12.7));
    CHECK(setup.outer.zero == ZeroFrom::top);
    CHECK(setup.flip.dowels->spacing_mm == about(203.2));
    CHECK(setup.board.measured_thickness_mm == board.measured_thickness_mm);
    CHECK(setup.bed.readings == job.bed.readings);
  }
}

TEST_CASE("the smallest job lists every value it takes for granted, once") {
  const Job job = parse(JobText{}.str());
  for (const std::string_view line :
       {"units is not stated; \"mm\" is used", "accepted_chance is not stated; 0.05 is used",
        "trials is not stated; 20000 is used", "seed is not stated; 1 is used",
        "board.thickness_error is not stated; 0 mm is used",
        "side_a.plate_error is not stated; 0 mm is used",
        "side_b.bit.length_from is not stated; \"datum\" is used",
        "side_a.roughing is not stated; the roughing bit is taken to leave no marks in the wall",
        "bed.flatness is not stated; the bed is taken as flat",
        "bed.seating is not stated; \"unknown\" is used",
        "flip is not stated; the skin is taken to stay where it belongs sideways",
        "part.placing.mirror is not stated; \"none\" is used",
        "board.pocket_face_z is not stated; it is found from the meshes, as said "
        "below"}) {
    CAPTURE(line);
    CHECK(assumes(job, line));
  }
  std::vector<std::string> sorted = lines_of(job.assumptions);
  std::sort(sorted.begin(), sorted.end());
  CHECK(std::adjacent_find(sorted.begin(), sorted.end()) == sorted.end());
  CHECK(job.parts.at(0).pockets.at(0).limit_mm == 0.5);
  CHECK(setup_of(job, job.parts[0].pockets[0], 4.5).top_z_mm == 4.5);
  CHECK_FALSE(setup_of(job, job.parts[0].pockets[0], 4.5).flip.dowels);
}

TEST_CASE("assumptions speak in the unit of the job") {
  const Job job = parse(JobText{}.set("", "units", "\"inch\"").set("", "limit", "0.02").str());
  CHECK(assumes(job, "side_a.sanding is not stated; 0 in is used"));
  CHECK(job.board.assumed_thickness_mm == 30 * 25.4);
}

TEST_CASE("a fit gives the largest clearance of ISO 286-2, board and bed together") {
  // ISO 286-2 (secondary tables): 8 H7 0..+15 um, h6 0..-9, m6 +6..+15, H8 0..+22.
  JobText text;
  text.set("flip", "located_by", "\"dowels\"")
      .set("flip.dowels", "spacing", "200")
      .set("flip.dowels", "pin_diameter", "8")
      .set("flip.dowels", "fit", "\"H7/h6\"");
  CHECK(parse(text.str()).flip->dowels->clearance_1_mm == about(0.024));
  CHECK(assumes(parse(text.str()),
                "flip.dowels.bed_fit is not stated; the pins sit tight in the bed"));
  text.set("flip.dowels", "bed_fit", "\"H8/h6\"");
  CHECK(parse(text.str()).flip->dowels->clearance_2_mm == about(0.024 + 0.031));
  text.set("flip.dowels", "bed_fit", "\"H7/m6\"");
  CHECK(parse(text.str()).flip->dowels->clearance_2_mm == about(0.024 + 0.009));
}

TEST_CASE("measured diameters add up in board and bed") {
  JobText text;
  text.set("flip", "located_by", "\"dowels\"")
      .set("flip.dowels", "spacing", "200")
      .set("flip.dowels", "pin_diameter", "7.98")
      .set("flip.dowels", "hole_diameter", "8.01");
  CHECK(parse(text.str()).flip->dowels->clearance_1_mm == about(0.03));
  text.set("flip.dowels", "bed_hole_diameter", "8.00");
  CHECK(parse(text.str()).flip->dowels->clearance_2_mm == about(0.05));
}

TEST_CASE("readings come from files, with how they were read among the assumptions") {
  JobText text;
  text.set("bed", "readings", "\"bed_heights.csv\"")
      .set("board", "readings", "\"board_thickness.csv\"");
  const Job job =
      parse_job(text.str(), {.name = "j.toml", .folder = kJobs, .files_must_exist = false});
  CHECK(*job.bed.readings->height_mm(100, 80) == about(0.05));
  CHECK(*job.board.thickness_readings->height_mm(-80, -60) == about(30.10));
  CHECK(std::any_of(job.assumptions.begin(), job.assumptions.end(), [](const Assumption& a) {
    return a.text.starts_with("bed.readings \"bed_heights.csv\": ");
  }));
}

TEST_CASE("the order of tables does not matter, nor do comments and line ends") {
  const std::string forward = JobText{}.str();
  const std::string other = "limit = 0.5 # the limit\r\n[[part]]\r\nskin = 's.stl'\r\n"
                            "[[part.pocket]]\r\nmesh = 'p.stl'\r\n[side_b]\r\ntouch_off = 0.04\r\n"
                            "zero = 'bed'\r\n[side_a]\r\ntouch_off = 0.04\r\nzero = 'top'\r\n"
                            "[board]\r\nthickness = 30\r\n";
  CHECK(digest(parse(forward)) == digest(parse(other)));
}
