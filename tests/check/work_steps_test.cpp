// The set-ups of a job in the order of work, and the sheet that hangs at the machine.
#include "check/work_steps.h"

#include "check/job_folder.h"
#include "check/pour/pour_job.h"
#include "report/sheet/pdf_tools.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <memory>
#include <string>
#include <utility>
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

/// The other half on a board of its own.
const std::string kOnBoard2 = kMirror + "board = 2\n";

/// The same job without the place and the size of its board.
std::string without_board(std::string text) {
  for (const char* line : {"corner = [-150, -150]\n", "size = [300, 300]\n"})
    text.erase(text.find(line), std::string(line).size());
  return text;
}

JobResult with_pour(const Boxes& boxes, const std::string& text) {
  JobInput input = boxes.input(text);
  auto pour = std::make_shared<const Pour>(pour_job(*input.job, "job.toml", input.meshes, {}, {}));
  JobResult job = check_job(std::move(input), {});
  job.pour = std::move(pour);
  return job;
}

std::size_t count_of(const std::string& text, const std::string& words) {
  std::size_t n = 0;
  for (std::size_t at = text.find(words); at != text.npos; at = text.find(words, at + 1))
    ++n;
  return n;
}

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
  CHECK(job.holes[0].mark.at == Point2{37, 60});
  CHECK(job.holes[1].mark.at == Point2{-37, -60}); // mirrored
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

TEST_CASE("a new board is clamped as one, with its own edge, arrow and touch-off") {
  const JobResult job = Boxes().checked(kBoard + kNested + kOnBoard2);
  const std::vector<WorkStep> steps = work_steps(job);
  REQUIRE(steps.size() == 6);
  for (std::size_t i = 0; i < 6; ++i) {
    CHECK(steps[i].step.board == i / 3);
    CHECK(steps[i].step.boards == 2);
    CHECK(steps[i].step.of_board == i % 3 + 1);
  }
  const std::vector<std::string> sheet = pages_of(job_sheet(job, {}));
  REQUIRE(sheet.size() == 8); // order, six set-ups, section
  CHECK(sheet[4].find("CLAMP BOARD 2, A NEW ONE") != std::string::npos);
  CHECK(sheet[4].find("4 OF 6: BOARD 2, POCKET FACE UP") != std::string::npos);
  CHECK(sheet[4].find("Touch Z on it anew") != std::string::npos);
  CHECK(sheet[4].find("Pencil an arrow") != std::string::npos);
  CHECK(sheet[4].find("PUT THE BOARD BACK") == std::string::npos);
  CHECK(sheet[5].find("PUT THE BOARD BACK") != std::string::npos);
  std::string card;
  for (const std::string& page : pages_of(job_card(job, {})))
    card += page;
  CHECK(count_of(card, "Pencil an arrow") == 2);
  CHECK(count_of(card, "The same edge as before, the one with the arrow (Y -150.0)") == 2);
  CHECK(count_of(card, "A new board that is not cut yet") == 1);
  CHECK(count_of(card, "BOARD 2: POCKET FACE UP") == 2);
}

TEST_CASE("the first page draws every board and names it") {
  const std::vector<std::string> pages =
      pages_of(job_sheet(Boxes().checked(kBoard + kNested + kOnBoard2), {}));
  CHECK(pages[0].find("BOARD 1 OF 2") != std::string::npos);
  CHECK(pages[0].find("BOARD 2 OF 2") != std::string::npos);
  CHECK(count_of(pages[0], "YOU STAND HERE") == 2);
  const std::vector<std::string> one =
      pages_of(job_sheet(Boxes().checked(kBoard + kNested + kMirror), {}));
  CHECK(one[0].find("BOARD 1") == std::string::npos);
}

TEST_CASE("resin is poured into a board when that board is cut") {
  const std::vector<std::string> pages =
      pages_of(job_sheet(with_pour(Boxes(), kBoard + kNested + kOnBoard2), {}));
  REQUIRE(pages.size() == 12); // two pours a board
  const auto has = [&](std::size_t page, const char* words) {
    return pages[page].find(words) != std::string::npos;
  };
  CHECK(has(1, "1 OF 6"));
  CHECK(has(2, "BOARD 1, RESIN 1 OF 2"));
  CHECK(has(2, "into room of left "));
  CHECK_FALSE(has(2, "right"));
  CHECK(has(6, "4 OF 6"));
  CHECK(has(7, "BOARD 2, RESIN 1 OF 2"));
  CHECK(has(7, "into room of right "));
  CHECK_FALSE(has(7, "left"));
  CHECK(has(7, "counted from the first lift on this board"));
  // Of one board both halves are poured together.
  const std::vector<std::string> together =
      pages_of(job_sheet(with_pour(Boxes(), kBoard + kNested + kMirror), {}));
  CHECK(together[2].find("RESIN 1 OF 2: POUR") != std::string::npos);
  CHECK(together[2].find("of left and right") != std::string::npos);
}

TEST_CASE("a board that goes back lies with the arrow where it was") {
  const JobResult job = Boxes().checked(kBoard + kNested + kMirror);
  const std::vector<std::string> sheet = pages_of(job_sheet(job, {}));
  CHECK(sheet[1].find("Pencil an arrow") != std::string::npos);
  CHECK(sheet[2].find("Pencil an arrow") == std::string::npos);
  const std::vector<std::string> card = pages_of(job_card(job, {}));
  CHECK(count_of(card[0], "Pencil an arrow") == 1);
  for (const std::string& page : {sheet[2], card[0]}) {
    CHECK(page.find("The same edge as before, the one with the arrow (Y -150.0)") !=
          std::string::npos);
  }
}

TEST_CASE("dowels that let a board in turned by 180 degrees are told where it goes back") {
  const std::string flip = "[flip]\nline = \"along y\"\nat = 0\nlocated_by = \"dowels\"\n"
                           "[flip.dowels]\nspacing = 280\nclearance = 0.02\n";
  const JobResult job = Boxes().checked(kBoard + flip + kNested + kMirror);
  CHECK(pages_of(job_sheet(job, {}))[2].find("turned by 180 degrees") != std::string::npos);
  CHECK(count_of(pages_of(job_card(job, {}))[0], "turned by 180 degrees") == 1);
}

TEST_CASE("no edge of the board is named where the job does not state the board") {
  const JobResult job = Boxes().checked(without_board(kBoard) + kNested + kMirror);
  CHECK_FALSE(job.board_stated);
  for (const std::string& page : pages_of(job_sheet(job, {})))
    CHECK(page.find("edge at Y") == std::string::npos);
  const std::string first = pages_of(job_sheet(job, {}))[1];
  CHECK(first.find("does not state where the board") != std::string::npos);
  CHECK(first.find("Board not stated. The broken line is the outline of the parts") !=
        std::string::npos);
  CHECK(pages_of(job_card(job, {}))[0].find("(Y ") == std::string::npos);
}

TEST_CASE("each drill stands in its set-up with all that it drills, on sheet and card") {
  const JobResult job = Boxes().checked(kBoard + kNested + kDowel + kMirror);
  const std::string drill = "Drill 1.00 mm for peg: 5.00 mm deep under the pocket face to its tip, "
                            "at X 37.00 Y 60.00 and X -37.00 Y -60.00. Touches Z zero again.";
  const std::vector<std::string> sheet = pages_of(job_sheet(job, {}));
  CAPTURE(sheet[1]);
  CHECK(sheet[1].find(drill) != std::string::npos);
  CHECK(sheet[2].find("Drill 1.00") == std::string::npos); // another set-up
  CHECK(sheet[3].find("Drill 1.00") == std::string::npos);
  CHECK(count_of(pages_of(job_card(job, {}))[0],
                 "Drill of 1.00 mm: touches Z zero again; the sheet has every hole.") == 1);
}

TEST_CASE("a thin place is called by its wall and its number there, as in the report") {
  std::string text = kBoard + kNested + kMirror;
  text.replace(text.find("limit = 2"), 9, "limit = 2.97"); // only the resin may end under its limit
  const JobResult job = Boxes().checked(text);
  for (const WorkStep& step : work_steps(job))
    for (const RegionRow& row : step.report.wall.regions) {
      REQUIRE(row.of_wall > 0);
      const WallReport& wall = job.report.walls.at(row.of_wall - 1).wall;
      CHECK(wall.regions.at(row.of_place - 1).at.x == row.at.x);
      CHECK(wall.regions.at(row.of_place - 1).at.y == row.at.y);
    }
  const std::vector<std::string> sheet = pages_of(job_sheet(job, {}));
  const RegionRow first = work_steps(job)[0].report.wall.regions.front();
  const std::string wall = std::to_string(first.of_wall);
  CHECK(sheet[1].find(wall + "-1: place 1 of wall " + wall + ".") != std::string::npos);
  CHECK(sheet[0].find(wall + " ") != std::string::npos);
}
