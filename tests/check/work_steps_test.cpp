// The set-ups of a job in the order of work, and the sheet that hangs at the machine.
#include "check/work_steps.h"

#include "check/job_folder.h"
#include "report/sheet/pdf_tools.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <string>
#include <vector>

using namespace leastwall;
using namespace leastwall::test;

namespace {

const std::string kDowel = R"(
[[part.hole]]
name = "peg"
at = [37, 0]
diameter = 1
depth = 5
from = "pocket face"
limit = 0.1
)";

/// The words of each page, a blank between them.
std::vector<std::string> pages_of(const std::string& pdf) {
  std::vector<std::string> pages;
  for (const sample::Word& word : sample::PdfFile(pdf).words()) {
    pages.resize(std::max(pages.size(), static_cast<std::size_t>(word.page)));
    pages[static_cast<std::size_t>(word.page) - 1] += word.text + " ";
  }
  return pages;
}

} // namespace

TEST_CASE("steps: pockets in the order of cutting, resin between them, the skin last") {
  const JobResult job = Boxes().checked(kBoard + kNested + kDowel + kMirror);
  const std::vector<WorkStep> steps = work_steps(job);
  REQUIRE(steps.size() == 3);
  CHECK(steps[0].step.side == Side::a);
  CHECK(steps[0].step.cuts == "room and peg; of left and right");
  CHECK(steps[0].step.then.find("Pour amber resin into room") == 0);
  CHECK(steps[1].step.side == Side::a);
  CHECK(steps[1].step.cuts == "ember; of left and right");
  CHECK(steps[1].step.then.find("Pour") == std::string::npos); // nothing lies in it
  CHECK(steps[2].step.side == Side::b);
  CHECK(steps[2].step.cuts == "skin; of left and right");
  CHECK(steps[2].step.then.empty());
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(steps[i].step.number == i + 1);
    CHECK(steps[i].step.of == 3);
  }
  CHECK(steps[1].setup.inner_cut.set_up == 1);
  CHECK(steps[0].setup.inner_cut.touch == 0); // the pocket's, not the drill's
  const std::vector<PartMark> parts = part_marks(job);
  REQUIRE(parts.size() == 2);
  CHECK(parts[0].name == "left");
  CHECK(parts[0].box.low.y == doctest::Approx(30));
  CHECK(parts[1].box.high.y == doctest::Approx(-30));
  REQUIRE(job.holes.size() == 2);
  CHECK(job.holes[0].at == Point2{37, 60});
  CHECK(job.holes[1].at == Point2{-37, -60}); // mirrored
}

TEST_CASE("steps: each shows the thin places of the walls that it cuts") {
  std::string text = kBoard + kNested;
  text.replace(text.find("limit = 2"), 9, "limit = 2.97"); // only the resin may end under its limit
  const JobResult job = Boxes().checked(text);
  const std::vector<WorkStep> steps = work_steps(job);
  REQUIRE(steps.size() == 3);
  CHECK_FALSE(steps[0].report.wall.regions.empty()); // it cuts what the resin stands on
  CHECK_FALSE(steps[1].report.wall.regions.empty());
  CHECK(steps[2].report.wall.regions.empty());
}

TEST_CASE("the sheet of a job: a page with order, parts and walls, then a page a set-up") {
  const JobResult job = Boxes().checked(kBoard + kNested + kDowel + kMirror);
  const std::string pdf = job_sheet(job, {});
  CHECK(pdf == job_sheet(job, {}));
  const std::vector<std::string> pages = pages_of(pdf);
  REQUIRE(pages.size() == 5);
  for (const char* words : {"SET-UPS, IN THIS ORDER", "right: skin to room", "left: room to ember",
                            "3.000", "Pour amber resin into room"})
    CHECK_MESSAGE(pages[0].find(words) != std::string::npos, words);
  CHECK(pages[1].find("1 OF 3: POCKET FACE UP") != std::string::npos);
  CHECK(pages[2].find("PUT THE BOARD BACK") != std::string::npos);
  CHECK(pages[2].find("TURN THE BOARD OVER") == std::string::npos);
  CHECK(pages[3].find("TURN THE BOARD OVER") != std::string::npos);
  CHECK(pages[4].find("SECTION AT THE THINNEST PLACE") != std::string::npos);
  for (const std::string& page : pages)
    CHECK(page.find("Page ") != std::string::npos);
}

TEST_CASE("the card of a job has its set-ups in the order of work, with one wall or several") {
  const std::string one_pocket = kNested.substr(0, kNested.rfind("[[part.pocket]]"));
  const std::vector<std::string> one = pages_of(job_card(Boxes().checked(kBoard + one_pocket), {}));
  REQUIRE(one.size() == 1);
  CHECK(one[0].find("POCKET FACE UP") < one[0].find("SKIN FACE UP"));
  CHECK(one[0].find("SKIN FACE UP") != std::string::npos);
  const std::vector<std::string> all =
      pages_of(job_card(Boxes().checked(kBoard + kNested + kDowel + kMirror), {}));
  REQUIRE(all.size() == 1);
  const std::size_t first = all[0].find("POCKET FACE UP");
  CHECK(all[0].find("POCKET FACE UP", first + 1) < all[0].find("SKIN FACE UP"));
  CHECK(all[0].find("Cut ember") != std::string::npos);
}

TEST_CASE("between two parts wood stands: the face can be touched there") {
  const auto sheet = [](const std::string& at) {
    std::string board = kBoard;
    board.replace(board.find("[-140, 140]"), 11, at); // of side A
    const std::vector<std::string> pages =
        pages_of(job_sheet(Boxes().checked(board + kNested + kMirror), {}));
    REQUIRE(pages.size() > 1);
    return pages[1];
  };
  // One part lies above y 30, the other one below y -30.
  const std::string between = sheet("[1, 2]"), over = sheet("[1, -60]");
  CHECK(between.find("X 1.00 ") != std::string::npos);
  CHECK(between.find("Y 2.00 ") != std::string::npos);
  CHECK(between.find("NO PLACE TO TOUCH") == std::string::npos);
  CHECK(over.find("Y -60.00") == std::string::npos);
  CHECK(over.find("NO PLACE TO TOUCH") != std::string::npos);
}

TEST_CASE("a point where the part is cut away stands on the card as little as on the sheet") {
  std::string board = kBoard;
  for (std::size_t at = 0; (at = board.find("[-140, 140]", at)) != board.npos; ++at)
    board.replace(at, 11, "[0, 60]"); // over the pocket, which is cut away
  board.replace(board.find("zero = \"bed\""), 12, "zero = \"top\"");
  const std::string one_pocket = kNested.substr(0, kNested.rfind("[[part.pocket]]"));
  const std::vector<std::string> card = pages_of(job_card(Boxes().checked(board + one_pocket), {}));
  REQUIRE(card.size() == 1);
  CHECK(card[0].find("NO PLACE TO TOUCH") != std::string::npos);
  CHECK(card[0].find("Y 60.00") == std::string::npos); // on neither side
  // And where it can be touched, it is there.
  CHECK(pages_of(job_card(Boxes().checked(kBoard + one_pocket), {}))[0].find("X -140.00") !=
        std::string::npos);
}
