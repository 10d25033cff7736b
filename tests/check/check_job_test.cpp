// Whole jobs: walls known in closed form, halves, and what the walls come to together.
#include "check/check_job.h"

#include "base/errors.h"
#include "parts/drilled_hole.h"
#include "check/job_folder.h"
#include "check/parts_on_board.h"
#include "check/work_steps.h"
#include "mesh/inspect_mesh.h"
#include "peers/reference_library.h"
#include "report/json/json_report.h"
#include "report/text/text_report.h"
#include "report/words/parts_text.h"
#include "report/words/verdict_text.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <string>
#include <variant>
#include <vector>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;
using Json = nlohmann::ordered_json;

namespace {

const NamedWall& wall(const JobResult& r, const std::string& part, const std::string& inner) {
  for (const NamedWall& w : r.report.walls)
    if (w.part == part && w.inner == inner)
      return w;
  throw RunError("no such wall");
}

} // namespace

TEST_CASE("nested boxes: wood 1.2 mm, resin 3 mm, each against its own limit") {
  const JobResult r = Boxes().checked(kBoard + kNested);
  REQUIRE(r.report.walls.size() == 2);
  const NamedWall &wood = wall(r, "left", "room"), &resin = wall(r, "left", "ember");
  CHECK(wood.outer == "skin");
  CHECK(wood.material == "wood");
  CHECK(wood.wall.least_wall.design_mm == Approx(1.2).epsilon(1e-6));
  CHECK(wood.wall.limit_mm == 0.5);
  CHECK(resin.outer == "room");
  CHECK(resin.material == "amber resin");
  CHECK(resin.wall.least_wall.design_mm == Approx(3).epsilon(1e-6));
  CHECK(resin.wall.limit_mm == 2);
  CHECK(r.report.wall.verdict == Verdict::safe);
  // On the same pins, touched at the same point: two touch-offs are all that is left of the
  // resin's.
  for (const CauseRow& cause : resin.wall.causes)
    CHECK(cause.id.kind == CauseKind::touch_off);
  CHECK(resin.wall.causes.size() == 2);
  CHECK(resin.wall.least_wall.worst_mm == Approx(3 - 0.06).epsilon(1e-6));
}

TEST_CASE("nested half balls: wood and resin are the differences of the radii") {
  Folder f;
  f.mesh("skin.stl", shapes::bowl({0, 0, 0}, 30, 128, 64));
  f.mesh("room.stl", shapes::bowl({0, 0, 0}, 28.8, 128, 64));
  f.mesh("ember.stl", shapes::bowl({0, 0, 0}, 25, 128, 64));
  const JobResult r = f.checked(kBoard + kNested);
  // Corners lie on the balls; the flats of facets lie inside by up to r (1 - cos(pi / n)).
  const double sag = 30 * (1 - std::cos(std::numbers::pi / 64));
  CHECK(std::abs(wall(r, "left", "room").wall.least_wall.design_mm - 1.2) <= sag);
  CHECK(std::abs(wall(r, "left", "ember").wall.least_wall.design_mm - 3.8) <= sag);
}

TEST_CASE("the other half: the same walls to the last digit, at mirrored places") {
  const JobResult r = Boxes().checked(kBoard + kNested + kMirror);
  REQUIRE(r.report.walls.size() == 4);
  for (const char* inner : {"room", "ember"}) {
    const WallReport &left = wall(r, "left", inner).wall, &right = wall(r, "right", inner).wall;
    CHECK(left.least_wall.design_mm == right.least_wall.design_mm);
    CHECK(left.least_wall.expected_mm == right.least_wall.expected_mm);
    CHECK(left.least_wall.worst_mm == right.least_wall.worst_mm);
    CHECK(left.least_wall.at.x == -right.least_wall.at.x);
    CHECK(left.least_wall.at.y - 60 == Approx(right.least_wall.at.y + 60));
    CHECK(left.chance->under_limit == right.chance->under_limit);
  }
  const WallMap &a = r.walls[0].wall.skin, &b = r.walls[2].wall.skin;
  REQUIRE(a.samples.size() == b.samples.size());
  for (std::size_t i = 0; i < a.samples.size(); ++i) {
    CHECK(a.samples[i].wall_mm == b.samples[i].wall_mm);
    CHECK(a.samples[i].n.x == -b.samples[i].n.x);
    CHECK(a.samples[i].at.z == b.samples[i].at.z);
  }
}

TEST_CASE("each half looks up the bed where it lies") {
  // A bump of the bed under the right half alone, on both sides (it lies on the flip line).
  std::string job = kBoard + kNested + kMirror;
  job.replace(
      job.find("flatness = 0.02"), 15,
      "seating = \"pressed\"\norigin = [0, 0]\nreadings = [[-160, -160, 0], [160, -160, 0], "
      "[-160, 160, 0], [160, 160, 0], [0, -60, 0.2], [0, 0, 0], [0, 60, 0], [-50, -60, 0], "
      "[50, -60, 0]]");
  const JobResult r = Boxes().checked(job);
  CHECK(wall(r, "left", "room").wall.least_wall.expected_mm == Approx(1.2).epsilon(1e-6));
  CHECK(wall(r, "right", "room").wall.least_wall.expected_mm == Approx(1.2 - 0.4).epsilon(1e-6));
  CHECK(wall(r, "right", "ember").wall.least_wall.expected_mm == Approx(3).epsilon(1e-6));
}

TEST_CASE("a part that is turned on the board measures the same and lies elsewhere") {
  std::string job = kBoard + kNested;
  job.replace(job.find("place = [0, 60]"), 15, "place = [10, 60]\nturn = 90");
  const JobResult r = Boxes().checked(job);
  CHECK(wall(r, "left", "room").wall.least_wall.design_mm == Approx(1.2).epsilon(1e-6));
  CHECK(r.report.box.low.x == Approx(10 - 30));
  CHECK(r.report.box.high.x == Approx(10 + 30));
  CHECK(r.report.box.high.y == Approx(60 + 40));
}

TEST_CASE("a resin wall under its own limit makes the job too thin, whatever the wood is") {
  std::string job = kBoard + kNested;
  job.replace(job.find("limit = 2"), 9, "limit = 3.2");
  const JobResult r = Boxes().checked(job);
  CHECK(r.report.wall.verdict == Verdict::thin);
  CHECK(r.governing == 1);
  CHECK(r.report.wall.limit_mm == 3.2);
  CHECK(wall(r, "left", "room").wall.verdict == Verdict::safe);
}

TEST_CASE(
    "a pocket that leaves the resin is cut through, and one that lies outside it is doubted") {
  Boxes f;
  f.mesh("ember.stl", shapes::box({-35.8, -25.8, -18.9}, {35.8, 25.8, 0}));
  JobResult r = f.checked(kBoard + kNested);
  CHECK(r.report.wall.verdict == Verdict::cut_through);
  CHECK(r.governing == 1);
  f.mesh("ember.stl", shapes::moved(shapes::box({-3, -3, -5}, {3, 3, 0}), {60, 0, 0}));
  r = f.checked(kBoard + kNested);
  CHECK(r.report.wall.verdict != Verdict::safe);
  CHECK(r.report.wall.verdict != Verdict::at_risk);
}

TEST_CASE("one unproven wall leaves the job unproven") {
  Boxes f;
  TriMesh torn = shapes::box({-35.8, -25.8, -18}, {35.8, 25.8, 0});
  torn.triangles.erase(torn.triangles.begin()); // some wall of it is open
  torn.triangles.erase(torn.triangles.begin());
  f.mesh("ember.stl", torn);
  std::string job = kBoard + kNested;
  job.replace(job.find("limit = 2"), 9, "limit = 0.2");
  const JobResult r = f.checked(job);
  CHECK(wall(r, "left", "room").wall.verdict == Verdict::safe);
  CHECK(wall(r, "left", "ember").wall.verdict == Verdict::unproven);
  CHECK(r.report.wall.verdict == Verdict::unproven);
  CHECK(r.report.advice.empty());
  CHECK_FALSE(r.report.resurface);
}

TEST_CASE("parts that overlap, or have no room for the cutter, are refused at the later one") {
  const Boxes f;
  const auto refusal = [&f](const std::string& text) { return f.refusal(text); };
  std::string job = kBoard + kNested + kMirror;
  const auto placed = [&job](const char* place) {
    std::string moved = job;
    moved.replace(moved.rfind("place = [0, -60]"), 16, place);
    return moved;
  };
  CHECK(
      refusal(placed("place = [0, 1]")) ==
      ":38: \"left\" and \"right\" overlap on the board; state part.place, so that each has room");
  // Wholly inside the other, no outline meets.
  f.mesh("skin.stl", shapes::box({-40, -30, -20}, {40, 30, 0}));
  CHECK(refusal(placed("place = [0, 60]")).find("overlap") != std::string::npos);
  CHECK(refusal(placed("place = [0, -60]")) == "accepted");
  CHECK(refusal(placed("place = [0, 0.01]")).find("overlap") != std::string::npos);
  CHECK(refusal(placed("place = [0, -2]")) == "accepted"); // 2 mm, no cutter stated
  job.replace(job.find("touch_off = 0.03\n[bed]"), 17,
              "touch_off = 0.03\nbit = {ball_radius = 1.5}\n");
  CHECK(refusal(placed("place = [0, -2]")) == ":39: \"left\" and \"right\" are 2.00 mm apart on "
                                              "the board, and the cutter of side B is 3.00 "
                                              "mm wide; move one with part.place");
  CHECK(refusal(placed("place = [0, -3.01]")) == "accepted");
}

TEST_CASE("a touch point over another part is told, with the wall that it is for") {
  std::string job = kBoard + kNested + kMirror;
  job.replace(job.find("touch_point = [-140, 140]"), 25, "touch_point = [0, -60]");
  const JobResult r = Boxes().checked(job);
  bool told = false;
  for (const Notice& n : r.report.warnings)
    told = told || n.code == "touch-cut-away";
  CHECK(told);
}

TEST_CASE("JSON and text: the job's verdict first, then every wall") {
  const JobResult r = Boxes().checked(kBoard + kNested + kMirror);
  const Json json = Json::parse(json_report(r.report));
  CHECK(json["schema"] == "leastwall/check/2");
  REQUIRE(json["parts"].size() == 2);
  CHECK(json["parts"][0]["name"] == "left");
  CHECK(json["parts"][1]["walls"].size() == 2);
  const Json& resin = json["parts"][1]["walls"][1];
  CHECK(resin["outer"] == "room");
  CHECK(resin["inner"] == "ember");
  CHECK(resin["material"] == "amber resin");
  CHECK(resin["limit_mm"] == 2);
  CHECK(resin["verdict"] == "safe");
  CHECK(json["governing"]["outer"] == "skin");
  CHECK(json["verdict"] == "safe");
  CHECK(json["limit_mm"] == 0.5);
  const std::string text = text_report(r.report, {});
  const std::size_t table = text.find("verdict"), least = text.find("Least wall");
  REQUIRE(table != std::string::npos);
  CHECK(table < least);
  for (const char* name : {"left: room", "left: ember", "right: room", "right: ember"})
    CHECK(text.substr(0, least).find(name) != std::string::npos);
}

TEST_CASE("a later part or pocket changes nothing in the numbers of the first wall") {
  const std::string one =
      kBoard + kNested.substr(0, kNested.find("[[part.pocket]]\nname = \"ember\""));
  const JobResult alone = Boxes().checked(one), with = Boxes().checked(kBoard + kNested + kMirror);
  const WallReport &a = alone.report.walls[0].wall, &b = with.report.walls[0].wall;
  CHECK(a.least_wall.expected_mm == b.least_wall.expected_mm);
  CHECK(a.least_wall.worst_mm == b.least_wall.worst_mm);
  CHECK(a.chance->under_limit == b.chance->under_limit);
  REQUIRE(a.causes.size() == b.causes.size());
  for (std::size_t k = 0; k < a.causes.size(); ++k)
    CHECK(a.causes[k].at_thinnest_mm == b.causes[k].at_thinnest_mm);
}

namespace {

/// A block of wood 80 x 60 x 20 mm with a pocket 40 x 40 x 15 mm in its middle.
struct Block : Folder {
  Block() {
    mesh("skin.stl", shapes::box({-40, -30, -20}, {40, 30, 0}));
    mesh("room.stl", shapes::box({-20, -20, -15}, {20, 20, 0}));
    mesh("other.stl", shapes::box({23, -20, -15}, {30, 20, 0}));
  }
};

const std::string kBlock = R"(
[[part]]
name = "block"
skin = "skin.stl"
[part.placing]
units = "mm"
[[part.pocket]]
name = "room"
mesh = "room.stl"
limit = 0.5
)";

std::string hole(const std::string& name, const std::string& more) {
  return "[[part.hole]]\nname = \"" + name + "\"\nlimit = 1\n" + more;
}

const NamedWall& between(const JobResult& r, const std::string& outer, const std::string& inner) {
  for (const NamedWall& w : r.report.walls)
    if (w.outer == outer && w.inner == inner)
      return w;
  throw RunError("no wall between " + outer + " and " + inner);
}

} // namespace

TEST_CASE("holes: wood to the skin, to a pocket and to one another in closed form") {
  const JobResult r = Block().checked(
      kBoard + kBlock +
      hole("flat", "at = [28, 0]\ndiameter = 6\ndepth = 10\nfrom = \"pocket face\"\n"
                   "bottom = \"flat\"\n") +
      hole("thin", "at = [28, 10]\ndiameter = 4\ndepth = 18\nfrom = \"pocket face\"\n") +
      hole("up",
           "at = [0, 0]\ndiameter = 5\ndepth = 23\nfrom = \"skin face\"\nbottom = \"flat\"\n"));
  const auto least = [&](const char* outer, const char* inner) {
    return between(r, outer, inner).wall.least_wall.design_mm;
  };
  const auto is = [](double mm) { return Approx(mm).epsilon(2e-4); };
  CHECK(least("skin", "flat") == is(40 - 28 - 3)); // to the side; the bottom is 10 mm away
  CHECK(least("skin", "thin") == is(2));           // under the point of the drill
  CHECK(least("room", "flat") == is(28 - 3 - 20));
  CHECK(least("room", "thin") == is(28 - 2 - 20));
  CHECK(least("flat", "thin") == is(10 - 3 - 2));
  CHECK(least("up", "room") == is(2)); // 40 mm of board, 23 mm deep: 17 mm under the pocket face
  CHECK(between(r, "room", "flat").material == "wood");
  // In one set-up of side A the bed and the board move pocket and hole alike: the drill's own touch
  // is what is left. Sideways and level walls do not feel it.
  for (const CauseRow& cause : between(r, "room", "flat").wall.causes)
    CHECK(cause.id.kind == CauseKind::touch_off);
  CHECK(r.report.wall.verdict == Verdict::safe);
  CHECK(between(r, "skin", "room").wall.least_wall.design_mm == is(5));
}

// FCL 0.7 measures the same bodies: the hole as a closed mesh, skin and pocket as drawn.
TEST_CASE("holes at random: wood to skin, pocket and one another as FCL measures it") {
  Folder f;
  const TriMesh skin = shapes::bowl({0, 0, 0}, 38, 96, 32),
                room = shapes::bowl({0, 0, 0}, 18, 64, 24);
  f.mesh("skin.stl", skin);
  f.mesh("room.stl", room);
  std::mt19937 draw(17);
  std::uniform_real_distribution<double> any(0, 1);
  int compared = 0;
  for (int job = 0; job < 8; ++job) {
    std::string text = kBoard + kBlock;
    std::vector<TriMesh> bodies;
    for (const char* name : {"one", "two"}) {
      const double far = 23 + 6 * any(draw), turn = (bodies.empty() ? 0 : 0.3) + 0.25 * any(draw);
      DrilledHole drilled;
      drilled.at = {std::round(1000 * far * std::cos(turn)) / 1000,
                    std::round(1000 * far * std::sin(turn)) / 1000};
      drilled.diameter_mm = 2 + std::round(10 * any(draw)) / 5;
      drilled.depth_mm = 4 + std::round(60 * any(draw)) / 10;
      drilled.flat = any(draw) < 0.5;
      bodies.push_back(drilled_hole(drilled));
      text += hole(name, fmt::format("at = [{}, {}]\ndiameter = {}\ndepth = {}\nfrom = \"pocket "
                                     "face\"\n{}",
                                     drilled.at.x, drilled.at.y, drilled.diameter_mm,
                                     drilled.depth_mm, drilled.flat ? "bottom = \"flat\"\n" : ""));
    }
    const JobResult r = f.checked(text);
    const auto same = [&](const char* outer, const char* inner, const TriMesh& a,
                          const TriMesh& b) {
      const double fcl = peers::mesh_distance(a, b);
      for (const NamedWall& w : r.report.walls)
        if (w.outer == outer && w.inner == inner && fcl > 0.01) {
          CAPTURE(job);
          CHECK(w.wall.least_wall.design_mm == Approx(fcl).epsilon(1e-3 / fcl));
          ++compared;
        }
    };
    same("skin", "one", skin, bodies[0]);
    same("skin", "two", skin, bodies[1]);
    same("room", "one", room, bodies[0]);
    same("room", "two", room, bodies[1]);
    same("one", "two", bodies[0], bodies[1]);
  }
  CHECK(compared >= 30);
}

TEST_CASE(
    "a hole that runs into a pocket is cut through, one out of the skin too unless it is meant") {
  const std::string into =
      hole("dowel", "at = [22, 0]\ndiameter = 6\ndepth = 10\nfrom = \"pocket face\"\n");
  JobResult r = Block().checked(kBoard + kBlock + into);
  CHECK(between(r, "room", "dowel").wall.verdict == Verdict::cut_through);
  CHECK(r.report.wall.verdict == Verdict::cut_through);
  // Wholly inside the pocket: nothing of the two crosses.
  r = Block().checked(
      kBoard + kBlock +
      hole("dowel", "at = [0, 0]\ndiameter = 6\ndepth = 10\nfrom = \"pocket face\"\n"));
  CHECK(r.report.wall.verdict == Verdict::cut_through);
  const std::string out =
      hole("cord", "at = [26, 0]\ndiameter = 4\ndepth = 25\nfrom = \"pocket face\"\n");
  r = Block().checked(kBoard + kBlock + out);
  CHECK(r.report.wall.verdict == Verdict::cut_through);
  r = Block().checked(kBoard + kBlock + out + "ends = \"through\"\n");
  CHECK(r.report.wall.verdict == Verdict::safe);
  CHECK(between(r, "room", "cord").wall.least_wall.design_mm == Approx(4).epsilon(2e-4));
  for (const NamedWall& w : r.report.walls)
    CHECK((w.outer != "skin" || w.inner != "cord"));
}

TEST_CASE("a hole outside its part is refused at its line; one far from all else is not listed") {
  const Block f;
  try {
    f.input(kBoard + kBlock +
            hole("off", "at = [41, 0]\ndiameter = 4\ndepth = 5\nfrom = \"pocket face\"\n"));
    CHECK_MESSAGE(false, "accepted");
  } catch (const InputError& error) {
    const std::string what = error.what();
    CAPTURE(what);
    CHECK(what.find("job.toml:28: \"off\" at [41, 0] mm lies outside its part, x -40.0 to 40.0") !=
          std::string::npos);
  }
  const JobResult r =
      f.checked(kBoard + kBlock +
                hole("far", "at = [36, 26]\ndiameter = 2\ndepth = 5\nfrom = \"pocket face\"\n"));
  CHECK(r.report.walls.size() == 2); // skin to pocket, skin to hole: 15 mm to the pocket
}

TEST_CASE("two pockets beside one another: the rib between them, cut in one set-up or in two") {
  const std::string second = R"(
[[part.pocket]]
name = "side"
mesh = "other.stl"
limit = 1
)";
  const JobResult one = Block().checked(kBoard + kBlock + second);
  const NamedWall& rib = between(one, "room", "side");
  CHECK(rib.wall.least_wall.design_mm == Approx(3).epsilon(1e-6));
  CHECK(rib.material == "wood");
  for (const CauseRow& cause : rib.wall.causes) // whatever moves one moves the other
    CHECK(cause.at_thinnest_mm == 0);
  CHECK(between(one, "skin", "side").wall.least_wall.design_mm == Approx(5).epsilon(1e-6));
  const JobResult two = Block().checked(kBoard + kBlock + second + "[part.pocket.side_a]\n");
  const NamedWall& rib_of_two = between(two, "room", "side");
  CHECK(rib_of_two.wall.least_wall.design_mm == Approx(3).epsilon(1e-6));
  CHECK(rib_of_two.wall.causes.size() == 2); // a touch-off each
  Block overlapping;
  overlapping.mesh("other.stl", shapes::box({19, -10, -10}, {30, 10, 0}));
  CHECK(overlapping.checked(kBoard + kBlock + second).report.wall.verdict == Verdict::cut_through);
  // A pocket that was forgotten to be told as inside another one: cut through, never safe.
  Block forgotten;
  forgotten.mesh("other.stl", shapes::box({-10, -10, -10}, {10, 10, 0}));
  CHECK(forgotten.checked(kBoard + kBlock + second).report.wall.verdict == Verdict::cut_through);
}

TEST_CASE("contradictions of parts and holes are one clear line at their place") {
  const Block f;
  const auto refusal = [&f](const std::string& text) { return f.refusal(text); };
  const std::string mirror = "[[part]]\nname = \"other\"\nmirror_of = \"block\"\nplace = [90, 0]\n";
  CHECK(refusal(kBoard + kBlock + mirror) == "accepted");
  std::string off = mirror;
  off.replace(off.find("90"), 2, "120");
  CHECK(refusal(kBoard + kBlock + off) ==
        ":28: \"other\" reaches 10.00 mm beyond the board; move it with part.place, or correct "
        "board.corner and board.size");
  const std::string pins = "[flip]\nline = \"along y\"\nat = 0\nlocated_by = \"dowels\"\n"
                           "[flip.dowels]\nspacing = 100\nclearance = 0.02\nmiddle = [90, 40]\n";
  CHECK(refusal(kBoard + pins + kBlock + mirror).find("a dowel of the flip stands in \"other\"") !=
        std::string::npos);
  const auto with = [&](const std::string& hole_text) {
    return refusal(kBoard + kBlock + hole("h", "at = [30, 0]\ndiameter = 4\n" + hole_text));
  };
  CHECK(with("depth = 19\nfrom = \"skin face\"\n")
            .find("ends 1.00 mm before the skin, in wood that side B takes away") !=
        std::string::npos);
  CHECK(with("depth = 15\nfrom = \"pocket face\"\nends = \"through\"\n")
            .find("but ends 5.00 mm before the skin") != std::string::npos);
  CHECK(with("depth = 40\nfrom = \"skin face\"\n").find("comes out on the other side") !=
        std::string::npos);
}

TEST_CASE(
    "a hole from the skin face that may come out of the pocket face leaves the job unproven") {
  const std::string deep = "at = [30, 0]\ndiameter = 4\nfrom = \"skin face\"\ndepth = ";
  // The limit of 1 mm, with a touch-off of 0.03 and a bed of 0.02 mm.
  const JobResult close = Block().checked(kBoard + kBlock + hole("h", deep + "38.96\n"));
  CHECK(close.report.wall.verdict == Verdict::unproven);
  const JobResult clear = Block().checked(kBoard + kBlock + hole("h", deep + "38.94\n"));
  CHECK(clear.report.wall.verdict == Verdict::safe);
  const auto told = [](const CheckReport& report, const char* code) {
    return std::ranges::any_of(report.warnings, [code](const Notice& n) { return n.code == code; });
  };
  CHECK(told(close.report, "hole-near-pocket-face"));
  CHECK(told(clear.report, "hole-comes-out"));
}

TEST_CASE(
    "wood under a hole from the skin face is that of the board as measured, on the bed as read") {
  const std::string deep =
      "at = [30, 0]\ndiameter = 4\nfrom = \"skin face\"\nbottom = \"flat\"\ndepth = ";
  const auto told = [&](const std::string& board, double depth) {
    const JobResult result =
        Block().checked(board + kBlock + hole("h", deep + fmt::format("{}\n", depth)));
    for (const Notice& n : result.report.warnings)
      if (n.code == "hole-near-pocket-face")
        return n.text;
    return std::string();
  };
  const auto with = [](std::string board, const std::string& old, const std::string& text) {
    REQUIRE(board.find(old) != std::string::npos);
    return board.replace(board.find(old), old.size(), text);
  };
  // 40 mm stated, 39.6 measured: 39.6 - 38 leaves 1.6; zero on the skin face, as deep as drawn.
  const std::string top = with(kBoard, "zero = \"bed\"", "zero = \"top\"");
  const std::string measured = with(top, "thickness = 40\n", "thickness = 40\nmeasured = 39.6\n");
  CHECK(told(measured, 38) == "");
  CHECK(told(measured, 38.56).find("leaves 1.040 mm under the pocket face, at worst 0.9") !=
        std::string::npos);
  CHECK(told(measured, 39.7).find("comes 0.100 mm out of the pocket face") != std::string::npos);
  CHECK(told(top, 38.5) == ""); // 1.5 as assumed
  // Zero on the bed: the board's thickness does not matter, the bed under the hole does. It lies
  // mirrored there, x -30, 0.6 above the corners.
  const std::string bed_read = with(
      kBoard, "flatness = 0.02",
      "readings = [[-150, -150, 0], [150, -150, 0], [-150, 150, 0], [150, 150, 0], [-30, 0, 0.6]]\n"
      "seating = \"pressed\"");
  CHECK(told(bed_read, 38) == ""); // 2 - 0.6 and more, since the touch point lies on the slope too
  CHECK(told(bed_read, 38.6) != ""); // 1.4 - 0.6 and at most 0.04
  CHECK(told(kBoard, 38.6) == "");
  CHECK(told(with(kBoard, "thickness = 40\n", "thickness = 40\nmeasured = 39.6\n"), 38.5) == "");
}

TEST_CASE("beside one another the larger of both limits counts, whichever is stated first") {
  const std::string near = "at = [26, 0]\ndiameter = 6\ndepth = 10\nfrom = \"pocket face\"\n";
  const std::string next =
      "at = [26, 6]\ndiameter = 4\ndepth = 10\nfrom = \"pocket face\"\nlimit = ";
  const auto limit_of = [&](const std::string& holes, const char* outer, const char* inner) {
    return between(Block().checked(kBoard + kBlock + holes), outer, inner).wall.limit_mm;
  };
  const std::string one = "[[part.hole]]\nname = \"one\"\n" + near;
  const std::string two = "[[part.hole]]\nname = \"two\"\n" + next;
  CHECK(limit_of(one + "limit = 0.4\n" + two + "0.9\n", "one", "two") == 0.9);
  CHECK(limit_of(two + "0.9\n" + one + "limit = 0.4\n", "two", "one") == 0.9);
  CHECK(limit_of(one + "limit = 0.4\n" + two + "0.9\n", "room", "one") == 0.5); // the pocket's
}

TEST_CASE("a wall that holds in a job that does not is not told as if all held") {
  std::string job = kBoard + kNested;
  job.replace(job.find("limit = 2"), 9, "limit = 3.2");
  const JobResult r = Boxes().checked(job);
  const CheckReport& wood = r.walls[0].report;
  REQUIRE(wood.wall.verdict == Verdict::safe);
  CHECK(verdict_headline(wood).banner == "THE JOB DOES NOT HOLD");
  CHECK(shown_verdict(wood) == Verdict::thin);
  CHECK(verdict_sentence(r.report, false).find("left: room to ember") != std::string::npos);
  const JobResult all = Boxes().checked(kBoard + kNested);
  CHECK(verdict_headline(all.walls[0].report).banner == "THIS WALL HOLDS");
}

TEST_CASE(
    "a pair that is far apart under one half and may count under the other is listed for both") {
  std::string job = kBoard + kBlock +
                    hole("far", "at = [30, 0]\ndiameter = 4\ndepth = 25\nfrom = \"skin face\"\n") +
                    "[[part]]\nname = \"other\"\nmirror_of = \"block\"\nplace = [0, -60]\n";
  job.insert(job.find("skin = "), "place = [0, 60]\n"); // 8 mm of wood to the pocket
  const auto listed = [](const JobInput& input) {
    return std::ranges::count_if(
        input.walls, [](const WallInput& w) { return w.input.pair == PairKind::beside; });
  };
  CHECK(listed(Block().input(job)) == 0);
  // A bump of 3 mm under the other half: what errors do there is larger.
  job.replace(
      job.find("flatness = 0.02"), 15,
      "seating = \"pressed\"\norigin = [0, 0]\nreadings = [[-160, -160, 0], [160, -160, 0], "
      "[-160, 160, 0], [160, 160, 0], [0, -60, 3], [0, 0, 0], [0, 60, 0], [-50, -60, 0], "
      "[50, -60, 0]]");
  const JobInput bumped = Block().input(job);
  CHECK(listed(bumped) == 2);
  for (const WallInput& w : bumped.walls)
    if (w.same_as)
      CHECK(bumped.walls[*w.same_as].inner == w.inner);
}

TEST_CASE("advice about zeros, written into the job, gives the verdict that it promised") {
  // The ember room states its own zero: what the job's side A changes to is not its.
  std::string nested = kNested;
  nested.replace(nested.find("limit = 0.5"), 11, "limit = 1.0");
  nested.replace(nested.find("limit = 2"), 9, "limit = 2.9");
  using Values = std::map<std::string, std::string>;
  const auto checked = [&nested](Values v) {
    return Boxes()
        .checked(fmt::format("units = \"mm\"\ntrials = 2000\n[board]\nthickness = 40\n"
                             "thickness_error = 0.3\ncorner = [-150, -150]\nsize = [300, 300]\n"
                             "[side_a]\nzero = {}\ntouch_point = {}\ntouch_off = 0.01\n"
                             "[side_b]\nzero = {}\ntouch_point = {}\ntouch_off = 0.01\n",
                             v["side_a.zero"], v["side_a.touch_point"], v["side_b.zero"],
                             v["side_b.touch_point"]) +
                 nested)
        .report;
  };
  const Values stated{{"side_a.zero", "\"top\""},
                      {"side_a.touch_point", "[-140, 140]"},
                      {"side_b.zero", "\"top\""},
                      {"side_b.touch_point", "[-140, 140]"}};
  const CheckReport now = checked(stated);
  REQUIRE(now.wall.verdict == Verdict::at_risk);
  std::size_t safe = 0;
  for (const AdviceRow& row : now.advice) {
    Values values = stated;
    bool only_zeros = !row.set.empty();
    for (const JobChange& change : row.set) {
      only_zeros = only_zeros && values.contains(change.key);
      if (const auto* word = std::get_if<std::string>(&change.value))
        values[change.key] = "\"" + *word + "\"";
      else if (const auto* at = std::get_if<std::vector<double>>(&change.value))
        values[change.key] = fmt::format("[{}, {}]", (*at)[0], (*at)[1]);
    }
    if (!only_zeros)
      continue;
    CAPTURE(row.change);
    CHECK(checked(values).wall.verdict == row.verdict);
    safe += row.verdict == Verdict::safe ? 1 : 0;
  }
  CHECK(safe >= 1); // side B on the bed: the thickness cancels in the wood
  for (const AdviceRow& row : now.advice)
    if (row.change.starts_with("Zero side A on the bed"))
      CHECK(row.verdict != Verdict::safe); // then it enters the resin
}

TEST_CASE(
    "a room in resin that was read in the wrong unit is not proven: no wall is near its limit") {
  Boxes f;
  f.mesh("ember.stl",
         shapes::scaled(shapes::box({-35.8, -25.8, -15.8}, {35.8, 25.8, 0}), 1 / 25.4));
  const JobResult r = f.checked(kBoard + kNested);
  // 18.8 - 15.8 / 25.4 = 18.18 mm of resin: less than ten times the limit of 2 mm.
  CHECK(wall(r, "left", "ember").wall.least_wall.design_mm == Approx(18.8 - 15.8 / 25.4));
  std::string thin = kNested;
  thin.replace(thin.find("limit = 2"), 9, "limit = 1");
  CHECK(f.checked(kBoard + thin).report.wall.verdict == Verdict::unproven);
}

const std::string kGlued = R"(
[[part.hole]]
name = "pin left"
at = [-39.4, 0]
diameter = 0.4
depth = 4
from = "pocket face"
glue_up_clearance = 0.06
limit = 0.3
[[part.hole]]
name = "pin right"
at = [39.4, 0]
diameter = 0.4
depth = 4
from = "pocket face"
glue_up_clearance = 0.04
limit = 0.3
)";

TEST_CASE("the seam of two halves: closed form for a flip line that is off and dowels with play") {
  Boxes f;
  const std::string flip =
      "[flip]\nline = \"along y\"\nat = 0\nlocated_by = \"edges\"\nline_error = 0.05\n";
  const JobResult r = f.checked(kBoard + flip + kNested + kGlued + kMirror);
  REQUIRE(r.report.parts.seams.size() == 1);
  const SeamRow& seam = r.report.parts.seams.front();
  CHECK(seam.part == "right");
  CHECK(seam.with == "left");
  // Mirrored across the line and not turned: four times what it is off. At a corner, 30 beside the
  // line of dowels L apart, a half is off by the vectors at both dowels, up to half of a clearance
  // each: a half of them along the line, and 30 / L of their difference by its turn.
  const double l = 2 * 39.4;
  const double of_dowels = 2 * (0.03 + 0.02) * std::hypot(0.5, 30 / l);
  CHECK(seam.worst_mm == Approx(4 * 0.05 + of_dowels).epsilon(1e-3));
  CHECK(std::abs(seam.largest.at.x) == Approx(40));
  CHECK(seam.largest.at.x == Approx(-seam.largest.at_other.x)); // mirror images
  CHECK(seam.expected_mm == 0);
  CHECK(seam.in_19_of_20_mm < seam.worst_mm);
  CHECK(seam.in_19_of_20_mm > 0.95 * 4 * 0.05 * 0.98);
  CHECK(seam.causes.front().id.kind == CauseKind::flip_line);
  double around = 0;
  for (const SeamPlace& place : seam.places)
    around += place.length_mm;
  CHECK(around == Approx(2 * (80 + 60)));
  for (const std::string& line : r.report.not_checked)
    CHECK(line.find("seam") == std::string::npos);

  const BoardRow& board = r.report.parts.board;
  CHECK(board.fits == true);
  CHECK_FALSE(board.parts_off_bed_mm);
}

TEST_CASE("a seam that cannot be worked out is not checked, and says why") {
  Boxes f;
  const auto told = [](const JobResult& r, std::string_view words) {
    return std::ranges::any_of(r.report.not_checked, [words](const std::string& line) {
      return line.find(words) != std::string::npos;
    });
  };
  JobResult r = f.checked(kBoard + kNested + kMirror);
  CHECK(r.report.parts.seams.empty());
  CHECK(told(r, "no hole takes a dowel of the glue-up"));
  const std::string one = kGlued.substr(0, kGlued.find("[[part.hole]]", 5));
  r = f.checked(kBoard + kNested + one + kMirror);
  CHECK(r.report.parts.seams.empty());
  CHECK(told(r, "one glue-up dowel lets the halves turn"));
}

TEST_CASE("a seam is not checked where the bed was read under one half alone") {
  Boxes f;
  // The left half lies at y 30 to 90, the right one at -90 to -30; the flip turns about x = 0.
  const auto job = [&](double from_y) {
    std::ofstream(f.dir.path() / "bed.csv")
        << "x,y,z\n-100," << from_y << ",0\n100," << from_y << ",0\n-100,100,0\n100,100,0\n";
    std::string board = kBoard;
    board.replace(board.find("flatness = 0.02"), 15,
                  "readings = \"bed.csv\"\norigin = [0, 0]\nseating = \"pressed\"");
    return f.checked(
        board + "[flip]\nline = \"along y\"\nat = 0\nlocated_by = \"edges\"\nline_error = 0.05\n" +
        kNested + kGlued + kMirror);
  };
  const auto told = [](const JobResult& r) {
    std::string found;
    for (const std::string& line : r.report.not_checked)
      if (line.find("the bed was not read under") != std::string::npos)
        found = line;
    return found;
  };
  CHECK(told(job(-100)).empty());
  CHECK(told(job(0)).find("the step at the seam of \"right\" and \"left\": the bed was not read "
                          "under 50 % of the outline") == 0);
}

TEST_CASE("a part that reaches beyond the bed is not proven, a board that does is a doubt") {
  Boxes f;
  const auto bed = [](const char* size) {
    std::string board = kBoard;
    board += std::string("origin = [0, 0]\ncorner = [-50, -160]\nsize = ") + size + "\n";
    return board + kNested;
  };
  const auto code = [](const JobResult& r) -> std::string {
    for (const Notice& n : r.report.warnings)
      if (n.code.ends_with("-off-bed"))
        return n.code;
    return "none";
  };
  // The board spans 300 by 300 about 0, 0; the part x -40 to 40 and y 30 to 90.
  JobResult r = f.checked(bed("[100, 320]"));
  CHECK(code(r) == "board-off-bed");
  CHECK(r.report.parts.board.board_off_bed_mm == Approx(100));
  CHECK(r.report.parts.board.parts_off_bed_mm == Approx(0));
  CHECK(r.report.wall.verdict != Verdict::unproven);
  r = f.checked(bed("[80, 320]"));
  CHECK(code(r) == "part-off-bed");
  CHECK(r.report.parts.board.parts_off_bed_mm == Approx(10));
  CHECK(r.report.wall.verdict == Verdict::unproven);
}

TEST_CASE("a part on a board of its own lies where it likes, and its set-ups are drawn anew") {
  Boxes f;
  std::string other = kMirror;
  const std::string place = "place = [0, -60]";
  other.replace(other.find(place), place.size(), "place = [0, 60]"); // where the first one lies
  CHECK(f.refusal(kBoard + kNested + other).find("overlap") != std::string::npos);
  const JobResult one = f.checked(kBoard + kNested + kMirror);
  const JobResult two = f.checked(kBoard + kNested + other + "board = 2\n");
  for (const Cause& cause : two.walls[2].budget.cause_model)
    CHECK(cause.id.board == (of_all_boards(cause.id.kind) ? 0 : 1));
  for (const Cause& cause : two.walls[0].budget.cause_model)
    CHECK(cause.id.board == 0);
  // The same walls, each as likely to fail; the two boards do not fail together.
  const auto chance = [](const JobResult& r, std::size_t w) {
    return r.walls[w].budget.chance->under_limit;
  };
  CHECK(two.report.walls.size() == 4);
  CHECK(two.report.walls[0].wall.least_wall.design_mm ==
        two.report.walls[2].wall.least_wall.design_mm);
  CHECK(chance(one, 0) == chance(two, 0));
  // Steps of work: three for each board.
  const std::vector<WorkStep> steps = work_steps(two);
  REQUIRE(steps.size() == 6);
  for (std::size_t i = 0; i < 6; ++i) {
    CHECK(steps[i].step.board == i / 3);
    CHECK(steps[i].step.side == (i % 3 == 2 ? Side::b : Side::a));
    CHECK(steps[i].step.number == i + 1);
  }
  CHECK(part_marks(two, 0).size() == 1);
  CHECK(part_marks(two, 1).size() == 1);
  CHECK(part_marks(two, 1).front().name == "right");
  std::vector<std::string> room = board_sentences(two.report.parts.board);
  CHECK(std::ranges::count(room, "\"left\": 60.0 mm to the edge of board 1.") == 1);
  CHECK(std::ranges::count(room, "\"right\": 60.0 mm to the edge of board 2.") == 1);
  room = board_sentences(one.report.parts.board);
  CHECK(std::ranges::count(room, "\"left\": 60.0 mm to the edge of the board.") == 1);
  // Nothing between parts of different boards.
  for (const BoardRow::Gap& gap : two.report.parts.board.gaps)
    CHECK(gap.to != BoardRow::GapTo::part);
}

TEST_CASE("a hole of the flip's dowels that cuts into a part is refused; its edge counts, not its "
          "middle") {
  Boxes f;
  const auto job = [](double spacing) {
    return kBoard +
           "[flip]\nline = \"along y\"\nat = 0\nlocated_by = \"dowels\"\n[flip.dowels]\nspacing "
           "= " +
           std::to_string(spacing) + "\npin_diameter = 8\nhole_diameter = 8.03\n" + kNested;
  };
  // The part ends at y 90; the dowels stand at +- half of the spacing.
  CHECK(f.refusal(job(181)).find("cuts 3.5") != std::string::npos); // 4.015 - 0.5
  CHECK(f.refusal(job(170)).find("stands in \"left\"") != std::string::npos);
  // Each half ends 5 mm from the middle of its dowel.
  const JobResult r = f.checked(job(190) + kMirror);
  int told = 0;
  for (const BoardRow::Gap& gap : r.report.parts.board.gaps)
    if (gap.to == BoardRow::GapTo::flip_dowel) {
      CHECK(gap.mm == Approx(5 - 4.015));
      CHECK_FALSE(gap.to_middle);
      ++told;
    }
  CHECK(told == 2);
}

TEST_CASE(
    "a part that is turned by any angle lies where its mesh does, not where a turned box does") {
  Boxes f;
  // A disc of radius 25 reaches 25 whichever way it is turned; the box of its turned box 35.
  f.mesh("skin.stl", shapes::bowl({0, 0, 0}, 25, 72, 18));
  f.mesh("room.stl", shapes::bowl({0, 0, 0}, 22, 72, 18));
  std::string job =
      kBoard + kNested.substr(0, kNested.find("[[part.pocket]]\nname = \"ember\"")) +
      "[[part]]\nname = \"right\"\nmirror_of = \"left\"\nplace = [-120, -120]\nturn = 45\n";
  const JobResult r = f.checked(job);
  CHECK(r.report.parts.board.fits == true);
  int told = 0;
  for (const BoardRow::Gap& gap : r.report.parts.board.gaps)
    if (gap.part == "right" && gap.to == BoardRow::GapTo::board_edge) {
      CHECK(gap.mm == Approx(5).epsilon(0.01)); // -150 + 120 + 25
      ++told;
    }
  CHECK(told == 1);
  for (const Notice& n : r.report.warnings)
    CHECK(n.code != "model-off-board");
}
