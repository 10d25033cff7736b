#include "report/sheet/setup_card.h"

#include "causes/model/cause_terms.h"
#include "report/sheet/drill_text.h"
#include "report/sheet/sheet_blocks.h"
#include "report/sheet/sheet_drawing.h"
#include "report/sheet/sheet_notices.h"
#include "report/sheet/sheet_text.h"
#include "report/words/length_text.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kFoot = 28, kSquare = 26;        // mm
constexpr double kMostHeight = 118;               // of a set-up, mm
constexpr double kBar = 6.4;                      // that counts the warnings, mm
constexpr double kLargest = 1.8, kSmallest = 0.4; // times the type as written below

/// How many warnings stand on the sheet; empty where none does.
std::string warned_text(const std::vector<Notice>& found) {
  if (found.empty())
    return {};
  if (leaves_unproven(found))
    return "DO NOT CUT: NO WALL IS PROVEN. The setup sheet says why";
  return fmt::format("! {} on the setup sheet: read {} first",
                     found.size() == 1 ? "A warning stands"
                                       : fmt::format("{} warnings stand", found.size()),
                     found.size() == 1 ? "it" : "them");
}

/// Where Z is touched, in large figures.
std::string touch_text(const SideMarks& marks, bool inch) {
  const LengthText words{inch};
  return fmt::format("X {}   Y {}", words.number(marks.touch.x, 2), words.number(marks.touch.y, 2));
}

/// "BOARD 2: POCKET FACE UP"; of a single board its face alone.
std::string face_of_board(const SetupSheetInput& input, Side side) {
  return input.step && input.step->boards > 1
             ? fmt::format("BOARD {}: {}", input.step->board + 1, face_text(side))
             : face_text(side);
}

/// A set-up in its frame, its type `large` times as large. Returns how far down it reaches.
double draw_step(SheetPaper& paper, const CardStep& step, bool inch, double top, double height,
                 double large) {
  const SetupSheetInput& input = *step.input;
  const double left = kSheetMargin, width = paper.width() - 2 * kSheetMargin;
  const double square = kSquare * std::min(1.0, large), x = left + square + 5;
  const double room = width - square - 8;
  paper.rectangle(left, top, width, height, {0.8, {}});
  paper.fill(left, top, square, square, kBlack);
  const std::string letter =
      input.step ? std::to_string(input.step->number) : side_letter(step.side);
  paper.text(letter, left + square / 2, top + square * 0.81,
             {66 * square / kSquare, true, Align::centre, kWhite});
  double y = top + 1.5;
  const auto lines = [&](const std::string& words, double size_pt, bool bold = false) {
    y = paper.paragraph(words, x, y, room, {size_pt * large, bold, Align::left, kBlack}, 3);
  };
  lines(face_of_board(input, step.side), 22, true);
  if (input.step)
    lines("Cut " + input.step->cuts + ".", 13);
  if (const BoardMove move = board_move(input, step.side, inch); !move.text.empty())
    lines(move.brief, 11);
  lines(edge_text(input, step.side, inch), 11);
  lines("Z zero: " + zero_text(input, step.side), 13);
  const SideMarks marks = sheet_marks(input, step.side);
  const bool bed = side_of(input.setup, step.side).zero == ZeroFrom::bed;
  const auto figures = [&](const std::string& words, double size_pt) {
    const Ink ink = paper.fitted(words, {size_pt * large, true, Align::left, kBlack}, room);
    paper.text(words, x, y + ink.size_pt * 0.34, ink);
    y += ink.size_pt * 0.44;
  };
  if (marks.touch_place == TouchPlace::good) {
    lines(fmt::format("{} ({}){}:", bed ? "Touch beside the board at" : "Touch at",
                      inch ? "inches" : "mm", marks.touch_stated ? "" : ", not stated, make sure"),
          13);
    figures(touch_text(marks, inch), 44);
  } else {
    figures("NO PLACE TO TOUCH", 30);
    const auto [why, remedy] = no_touch_text(marks, side_of(input.setup, step.side).zero);
    lines(why, 11, true);
    lines(remedy, 11);
  }
  for (const std::string& words : bit_text(input, step.side, inch))
    lines(words, 11);
  if (const std::string drills = drills_in_brief(input, step.side, inch); !drills.empty())
    lines(drills, 11);
  for (const std::string& words : program_text(input, step.side, inch))
    lines(words, 11);
  if (input.step && !input.step->then.empty())
    lines("Then: " + input.step->then, 11);
  if (const std::string words = warned_text(sheet_notices(input.report, step.side));
      !words.empty()) {
    paper.fill(left, top + height - kBar, width, kBar, kBlack);
    paper.text(words, left + 3, top + height - 2, {13, true, Align::left, kWhite});
    y += kBar;
  }
  return y + 1.5;
}

/// As large as the frame allows.
double type_of(const CardStep& step, const SetupSheetOptions& options, double height) {
  double large = kLargest;
  for (; large > kSmallest; large *= 0.96) {
    SheetPaper scratch(options.paper, "", SheetFile::nothing);
    const double below = draw_step(scratch, step, options.inch, 0, height, large);
    if (below <= height)
      break;
  }
  return large;
}

} // namespace

std::string setup_card(const CheckReport& whole, std::span<const CardStep> steps,
                       const SetupSheetOptions& options) {
  SheetPaper paper(options.paper, "Card: " + whole.title, options.file);
  const std::size_t pages = (steps.size() + kCardSteps - 1) / kCardSteps;
  for (std::size_t page = 0; page < pages; ++page) {
    if (page > 0)
      paper.next_page(false);
    const auto here =
        steps.subspan(page * kCardSteps, std::min(kCardSteps, steps.size() - page * kCardSteps));
    const SetupSheetInput head{whole, here.front().input->setup};
    SheetBlocks blocks{paper, head, options.inch};
    blocks.width = paper.width() - 2 * kSheetMargin;
    double top =
        blocks.head("Z", steps.size() == 2 ? "BOTH SET-UPS AT A GLANCE" : "ALL SET-UPS AT A GLANCE",
                    fmt::format("Page {} of {}.", page + 1, pages), kSheetMargin) +
        2;
    top = blocks.help(top);
    const double room = paper.height() - top - kFoot;
    const double height = std::min(kMostHeight, room / static_cast<double>(here.size()) - 3);
    double large = kLargest; // the same for all that are seen together
    for (const CardStep& step : here)
      large = std::min(large, type_of(step, options, height));
    for (const CardStep& step : here) {
      draw_step(paper, step, options.inch, top, height, large);
      top += height + 3;
    }
    constexpr Ink kSmall{9, false, Align::left, kBlack};
    top = paper.height() - kFoot + 1;
    for (const std::string& words : caution_text())
      top = paper.paragraph(words, kSheetMargin, top, blocks.width, kSmall, 3);
  }
  return paper.file();
}

} // namespace leastwall
