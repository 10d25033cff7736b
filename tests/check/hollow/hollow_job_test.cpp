// Pockets made from skins: whatever is made is read back from its bytes and checked as a job is.
#include "check/hollow/hollow_job.h"

#include "base/errors.h"
#include "check/job_folder.h"
#include "hollow/pocket_body.h"
#include "report/mesh/stl_mesh.h"
#include "report/text/hollow_text.h"
#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <numbers>
#include <random>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

const std::string kSides = R"(
[side_a]
zero = "top"
touch_off = 0.05
bit = {ball_radius = 2}
[side_b]
zero = "bed"
touch_off = 0.05
)";

std::string job_text(double limit, double thickness, const std::string& more = "") {
  return fmt::format(
      "units = \"mm\"\nlimit = {}\ntrials = 1000\n[board]\nthickness = {}\n{}{}[[part]]\n"
      "skin = \"skin.stl\"\n[[part.pocket]]\nname = \"room\"\nmesh = \"made.stl\"\n",
      limit, thickness, kSides, more);
}

struct ToHollow : Folder {
  JobWithPocket job(const std::string& text) const {
    const auto file = dir.path() / "job.toml";
    std::ofstream(file) << text;
    return read_job_to_hollow(file.string(), [](const std::filesystem::path&) {}, {}, {});
  }
  std::variant<Hollowed, NoPocket> hollowed(const std::string& text,
                                            const HollowOptions& options = {}) const {
    return hollow_job(job(text), options, {}, {});
  }
  /// The same job with the pocket as it was written.
  JobResult read_back(const std::string& text, const Hollowed& made) const {
    dir.file("made.stl", stl_bytes(made.written));
    return checked(text);
  }
};

double nearest_of(const TriMesh& a, const TriMesh& b) {
  const ClosestSurface near(a);
  double least = 1e9;
  for (const Tri& t : b.triangles)
    if (const auto pair =
            near.nearest_to_triangle({b.vertices[t[0]], b.vertices[t[1]], b.vertices[t[2]]}, least))
      least = std::min(least, pair->distance);
  return least;
}

} // namespace

TEST_CASE(
    "a box is hollowed to what limit and errors leave, and the file says the same as the run") {
  ToHollow f;
  f.mesh("skin.stl", shapes::box({-30, -20, -20}, {30, 20, 0}));
  const std::string text = job_text(0.6, 20);
  const auto result = f.hollowed(text);
  REQUIRE(std::holds_alternative<Hollowed>(result));
  const Hollowed& made = std::get<Hollowed>(result);
  // Two touch-offs of +-0.05 move the floor: in one of 20 boxes it may be under 0.6, so between
  // nothing and all of 0.1 is asked for besides. Upright walls do not move.
  const double floor = 20 - made.report.depth_mm;
  CHECK(floor > 0.6 + 0.02);
  CHECK(floor < 0.6 + 0.1 + 0.03);
  CHECK(made.check.report.wall.verdict == Verdict::safe);
  const JobResult again = f.read_back(text, made);
  CHECK(again.report.wall.verdict == Verdict::safe);
  CHECK(again.report.wall.least_wall.design_mm ==
        Approx(made.check.report.wall.least_wall.design_mm).epsilon(1e-9));
  CHECK(again.report.wall.chance->under_limit <= 0.05);
  // Bounds in closed form: inside a box less the limit all round, round a box with the ball's edges
  // less what is asked besides.
  const double most = (60 - 1.2) * (40 - 1.2) * (20 - 0.6);
  // Upright walls turn into the floor along its edges, where errors count in part.
  const double least = (60 - 1.4) * (40 - 1.4) * (20 - 0.75) - 4 * 0.86 * 20 - 0.86 * 200 - 20;
  CHECK(made.report.volume_mm3 < most);
  CHECK(made.report.volume_mm3 > least);
  CHECK(inspect_mesh(made.pocket).sound());
  const std::string words = hollow_text(made.report, made.check.report, "made.stl", false);
  CHECK(words.find("MADE: made.stl") == 0);
  CHECK(words.find(fmt::format("{:.2f} mm under the pocket face", made.report.depth_mm)) !=
        std::string::npos);
  CHECK(words.find("LOOK FIRST") == std::string::npos);
  // What the check of it doubts is said here, too.
  CheckReport doubted = made.check.report;
  doubted.warnings.push_back(
      {"model-off-board", "The model lies beside the board.", Severity::doubt});
  CHECK(hollow_text(made.report, doubted, "made.stl", false)
            .find("LOOK FIRST: The model lies beside the board.") != std::string::npos);
}

TEST_CASE("an even wall, and a depth that is capped") {
  ToHollow f;
  f.mesh("skin.stl", shapes::bowl({0, 0, 0}, 30, 96, 48));
  const std::string text = job_text(0.6, 30);
  const auto even = f.hollowed(text, {.even_wall_mm = 1.5, .cap_mm = {}});
  REQUIRE(std::holds_alternative<Hollowed>(even));
  const Hollowed& made = std::get<Hollowed>(even);
  const double least = nearest_of(made.pocket, shapes::bowl({0, 0, 0}, 30, 96, 48));
  CHECK(least > 1.5 - 0.03);
  CHECK(least < 1.5 + 0.05);
  CHECK(made.report.depth_mm == Approx(30 - 1.5).epsilon(0.003));
  const auto capped = f.hollowed(text, {.even_wall_mm = {}, .cap_mm = 10});
  if (const NoPocket* why = std::get_if<NoPocket>(&capped))
    MESSAGE(no_pocket_text(*why, false));
  REQUIRE(std::holds_alternative<Hollowed>(capped));
  CHECK(std::get<Hollowed>(capped).report.depth_mm == Approx(10));
  CHECK(std::get<Hollowed>(capped).report.capped_mm2 > 100);
  CHECK(made.report.capped_mm2 == 0);
}

// The promise itself: whatever is made from any skin under any errors is safe when it is read back.
TEST_CASE("random skins with random jobs: what is made holds when it is checked from its file") {
  std::mt19937 draw(31);
  std::uniform_real_distribution<double> any(0, 1);
  int made_of = 0;
  for (int job = 0; job < 6; ++job) {
    ToHollow f;
    const double deep = 10 + 8 * any(draw), wave = 1.2 * any(draw), length = 3 + 4 * any(draw);
    const double half = 20;
    f.mesh("skin.stl", shapes::sheet({-half, half}, {-half, half}, 50, 50, [&](double x, double y) {
             // A square bowl whose rim lies on the pocket face all round.
             const double r = std::max(std::abs(x), std::abs(y)) / half, inside = 1 - r * r;
             return -inside * (deep + wave * std::sin(x / length) * std::cos(y / length));
           }));
    const std::string text = job_text(0.4 + 0.5 * any(draw), deep + 4,
                                      fmt::format("sanding = {:.3f}\n[bed]\nflatness = {:.3f}\n",
                                                  0.1 * any(draw), 0.2 * any(draw)));
    const auto result = f.hollowed(text);
    if (const NoPocket* why = std::get_if<NoPocket>(&result)) {
      MESSAGE("no pocket: " << no_pocket_text(*why, false));
      continue;
    }
    ++made_of;
    const JobResult again = f.read_back(text, std::get<Hollowed>(result));
    CAPTURE(job);
    CHECK(again.report.wall.verdict == Verdict::safe);
    CHECK(again.report.wall.least_wall.expected_mm >= again.report.wall.limit_mm);
  }
  CHECK(made_of >= 4);
}

TEST_CASE("a pocket that the job places in inches, turned and mirrored is written as it is read") {
  ToHollow f;
  f.mesh("skin.stl", shapes::box({-30, -20, -20}, {30, 18, 0}));
  const std::string text = job_text(0.6, 20) +
                           "[part.pocket.placing]\nunits = \"inch\"\nup = \"-y\"\nmirror = \"x\"\n"
                           "turn = 30\nshift = [3, -7, 1.5]\n";
  const auto result = f.hollowed(text);
  REQUIRE(std::holds_alternative<Hollowed>(result));
  const Hollowed& made = std::get<Hollowed>(result);
  CHECK(made.written.box().size().y < 20 / 25.4); // its depth, in inches
  const JobResult again = f.read_back(text, made);
  CHECK(again.report.wall.verdict == Verdict::safe);
  CHECK(again.report.wall.least_wall.design_mm ==
        Approx(made.check.report.wall.least_wall.design_mm).epsilon(1e-9));
}

TEST_CASE("a skin too thin for the bit: nothing is made, and both lengths are told") {
  ToHollow f;
  f.mesh("skin.stl", shapes::box({-30, -2.5, -20}, {30, 2.5, 0}));
  const auto result = f.hollowed(job_text(0.6, 20));
  REQUIRE(std::holds_alternative<NoPocket>(result));
  const NoPocket& why = std::get<NoPocket>(result);
  CHECK(why.no_room);
  CHECK(why.room_mm > 2.2); // 2.5 from the middle, at a place of the lattice
  CHECK(why.room_mm <= 2.5);
  CHECK(why.needs_mm == Approx(2 + 0.6).epsilon(0.02)); // ball and limit; upright walls do not move
  CHECK(no_pocket_text(why, false).find("2.60") != std::string::npos);
}

TEST_CASE("what is sanded off is asked for besides: a known shift and how unevenly it is taken") {
  ToHollow f;
  f.mesh("skin.stl", shapes::box({-30, -2.5, -20}, {30, 2.5, 0}));
  const auto needs = [&f](const std::string& of_side_b) {
    const auto result = f.hollowed(job_text(0.6, 20, of_side_b));
    REQUIRE(std::holds_alternative<NoPocket>(result));
    return std::get<NoPocket>(result).needs_mm;
  };
  CHECK(needs("sanding = 0.2\n") == Approx(2 + 0.6 + 0.2));
  CHECK(needs("sanding = 0.2\nsanding_error = 0.05\n") == Approx(2 + 0.6 + 0.2 + 0.05));
}

TEST_CASE("a wall that errors can cut through at any depth: nothing is made") {
  ToHollow f;
  f.mesh("skin.stl", shapes::box({-30, -20, -20}, {30, 20, 0}));
  // An even wall of 0.5 under a limit of 0.6.
  const auto result = f.hollowed(job_text(0.6, 20), {.even_wall_mm = 0.5, .cap_mm = {}});
  REQUIRE(std::holds_alternative<NoPocket>(result));
  CHECK_FALSE(std::get<NoPocket>(result).no_room);
  CHECK(std::get<NoPocket>(result).expected_mm == Approx(0.505).epsilon(0.01));
  CHECK(std::get<NoPocket>(result).limit_mm == 0.6);
}

TEST_CASE("jobs that hollow cannot serve are refused in one line") {
  ToHollow f;
  f.mesh("skin.stl", shapes::box({-30, -20, -20}, {30, 20, 0}));
  const auto refused = [&f](std::string text, const std::string& from, const std::string& to) {
    if (!from.empty())
      text.replace(text.find(from), from.size(), to);
    try {
      f.hollowed(text);
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("accepted");
  };
  const std::string text = job_text(0.6, 20);
  CHECK(refused(text, "bit = {ball_radius = 2}\n", "").find("state side_a.bit.ball_radius") !=
        std::string::npos);
  CHECK(refused(text + "[[part.pocket]]\nname = \"b\"\nmesh = \"b.stl\"\ninside = \"room\"\n"
                       "[part.pocket.side_a]\nzero = \"top\"\n",
                "", "")
            .find("one part and one pocket") != std::string::npos);
  std::string raised = text;
  raised.insert(raised.find("thickness"), "pocket_face_z = 2\n");
  CHECK(refused(raised, "", "").find("ends 2.000 mm below the pocket face") != std::string::npos);
  std::string fine = text;
  fine.replace(fine.find("ball_radius = 2"), 15, "ball_radius = 0.02");
  CHECK(refused(fine, "", "").find("too fine") != std::string::npos);
  // The mesh of the pocket need not be named.
  CHECK(refused(text, "mesh = \"made.stl\"\n", "") == "accepted");
}

TEST_CASE("a depth that the bit cannot keep under an upright mouth is refused with the least one") {
  ToHollow f;
  f.mesh("skin.stl", shapes::box({-30, -20, -20}, {30, 20, 0}));
  // Errors move the mouth by 0.1 at most, each way: R 2, 0.5 + 0.1 upright.
  CHECK_THROWS_WITH_AS(f.hollowed(job_text(0.6, 20), {.even_wall_mm = {}, .cap_mm = 1}),
                       doctest::Contains("at least 2."), InputError);
}

// Two bodies whose first look holds and whose whole check does not: more margin, not a refusal.
TEST_CASE("two bowls in one skin are hollowed as each of them is") {
  ToHollow f;
  const auto bowl = [](double x, double depth) {
    TriMesh out = shapes::bowl({0, 0, 0}, 14, 48, 12);
    for (Vec3& v : out.vertices)
      v = {v.x + x, v.y * 10 / 14, v.z * depth / 14};
    return out;
  };
  f.mesh("skin.stl", shapes::joined(bowl(0, 9), bowl(40, 8)));
  const std::string text = job_text(0.5, 12);
  const auto result = f.hollowed(text);
  REQUIRE(std::holds_alternative<Hollowed>(result));
  CHECK(f.read_back(text, std::get<Hollowed>(result)).report.wall.verdict == Verdict::safe);
}
