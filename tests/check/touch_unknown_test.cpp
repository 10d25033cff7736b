// What hangs on the place of a touch is not safe where no one says where that is.
#include "check/job_folder.h"

#include <algorithm>
#include <doctest/doctest.h>

using namespace leastwall;
using namespace leastwall::test;

namespace {

const std::string kTouch = "touch_point = [-55, -45]\n";

/// A tub of 2 mm wall, limit 0.5, one wall.
struct Tub : Folder {
  Tub() {
    mesh("skin.stl", shapes::box({-40, -30, -20}, {40, 30, 0}));
    mesh("room.stl", shapes::box({-38, -28, -18}, {38, 28, 0}));
  }
  static std::string job(const std::string& touch, const std::string& bed, double limit = 0.5) {
    return "units = \"mm\"\ntrials = 400\nlimit = " + std::to_string(limit) +
           "\n[board]\nthickness = 40\ncorner = [-60, -50]\nsize = [120, 100]\n"
           "[side_a]\nzero = \"top\"\ntouch_off = 0.01\n" +
           touch + "[side_b]\nzero = \"top\"\ntouch_off = 0.01\n" + touch + "[bed]\n" + bed +
           "\n[[part]]\nskin = \"skin.stl\"\n[part.placing]\nunits = \"mm\"\n"
           "[[part.pocket]]\nmesh = \"room.stl\"\n";
  }
  CheckReport with(const std::string& touch, const std::string& bed, double limit = 0.5) const {
    return checked(job(touch, bed, limit)).report;
  }
  CheckReport with_pad(double reading_mm) const {
    JobInput in = input(job(kTouch, "flatness = 0.02"));
    in.walls.front().input.budget.pad->reading_mm = reading_mm;
    return check_job(std::move(in), {}).report;
  }
};

const std::string kRead = "readings = [[-80, -60, 0], [80, -60, 0], [-80, 60, 0], [80, 60, 0.02]]";

const Notice* told(const CheckReport& report, const std::string& code) {
  const auto found = std::ranges::find(report.warnings, code, &Notice::code);
  return found == report.warnings.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("on a bed that was read a side without a touch point proves no wall") {
  const Tub tub;
  CHECK(tub.with(kTouch, kRead).wall.verdict == Verdict::safe);
  const CheckReport report = tub.with("", kRead);
  CHECK(report.wall.verdict == Verdict::unproven);
  REQUIRE(told(report, "touch-not-stated") != nullptr);
  CHECK(told(report, "touch-not-stated")->text.find("side_a.touch_point") != std::string::npos);
  // A bed of which only the flatness is known bounds every place alike.
  CHECK(tub.with("", "flatness = 0.02").wall.verdict == Verdict::safe);
}

TEST_CASE("a thin wall stays thin, wherever Z is touched") {
  const CheckReport report = Tub().with("", kRead, 2.5);
  CHECK(report.wall.verdict == Verdict::thin);
  CHECK(told(report, "touch-not-stated")->severity == Severity::doubt);
}

TEST_CASE("a touch point that no one can touch proves no wall on a bed that was read") {
  // Zero on the bed, under the middle of the board.
  const Tub tub;
  const auto under = [&](const std::string& bed) {
    std::string job = Tub::job("touch_point = [0, 0]\n", bed);
    for (std::size_t at = job.find("\"top\""); at != job.npos; at = job.find("\"top\""))
      job.replace(at, 5, "\"bed\"");
    return tub.checked(job).report.wall.verdict;
  };
  CHECK(under(kRead) == Verdict::unproven);
  CHECK(under("flatness = 0.02") == Verdict::safe);
}

TEST_CASE("a job of several walls says once what is not known of its touch points") {
  const Boxes boxes;
  const std::string flat = "flatness = 0.02\n", touch = "touch_point = [-140, 140]\n";
  std::string board = kBoard;
  board.replace(
      board.find(flat), flat.size(),
      "seating = \"pressed\"\nreadings = [[-160, -160, 0], [160, -160, 0], [-160, 160, 0], "
      "[160, 160, 0.02]]\n");
  const std::size_t side_b = board.rfind(touch);
  std::string beside = board, under = board, nowhere = board;
  beside.replace(side_b, touch.size(), "touch_point = [-155, 140]\n");
  under.replace(side_b, touch.size(), "touch_point = [0, 60]\n");
  nowhere.erase(side_b, touch.size());
  nowhere.erase(nowhere.find(touch), touch.size());
  CHECK(boxes.checked(beside + kNested + kMirror).report.wall.verdict == Verdict::safe);
  const CheckReport report = boxes.checked(nowhere + kNested + kMirror).report;
  CHECK(report.wall.verdict == Verdict::unproven);
  // Side A, the ember room's own set-up of it, and side B.
  const auto told_times = std::ranges::count(report.warnings, "touch-not-stated", &Notice::code);
  CHECK(told_times >= 2);
  CHECK(told_times <= 3);
  CHECK(told(report, "touch-not-stated")->severity == Severity::unproven);
  CHECK(told(report, "touch-not-stated")->text.starts_with("Side A"));

  // Zero on the bed, and the board lies on that place.
  const CheckReport on_board = boxes.checked(under + kNested + kMirror).report;
  CHECK(on_board.wall.verdict == Verdict::unproven);
  REQUIRE(told(on_board, "touch-under-board") != nullptr);
  CHECK(told(on_board, "touch-under-board")->severity == Severity::unproven);
}

TEST_CASE("readings under a part of the piece prove no wall of the rest") {
  const Tub tub;
  const auto half = [](const char* y) {
    return std::string("readings = [[-80, -60, 0], [80, -60, 0], [-80, ") + y + ", 0], [80, " + y +
           ", 0.02]]";
  };
  // The piece reaches from y -30 to 30, the board from -50 to 50.
  const CheckReport report = tub.with(kTouch, half("10"));
  CHECK(report.wall.verdict == Verdict::unproven);
  REQUIRE(told(report, "bed-read-in-part") != nullptr);
  CHECK(told(report, "bed-read-in-part")->text.find("67 % of the piece") != std::string::npos);
  CHECK(tub.with(kTouch, half("30")).wall.verdict == Verdict::safe);
}

TEST_CASE("a pad that reads what no stated error explains proves no wall") {
  const Tub tub;
  // 2 mm as drawn; touch-offs of 0.01 and a bed of 0.02 explain no fifth of a millimetre.
  CHECK(tub.with_pad(2.01).wall.verdict == Verdict::safe);
  CHECK(tub.with_pad(1.8).wall.verdict == Verdict::unproven);
  CHECK(tub.with_pad(2.2).wall.verdict == Verdict::unproven);
}
