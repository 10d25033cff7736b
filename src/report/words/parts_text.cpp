#include "report/words/parts_text.h"

#include "report/words/cause_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::size_t kCausesTold = 3;

/// `numbered`: there are several boards.
std::string gap_text(const BoardRow::Gap& gap, bool numbered) {
  const std::string number = numbered ? fmt::format(" {}", gap.board + 1) : std::string();
  switch (gap.to) {
  case BoardRow::GapTo::part:
    return fmt::format("\"{}\" and \"{}\": {:.1f} mm between them{}.", gap.part, gap.other, gap.mm,
                       numbered ? ", on board" + number : number);
  case BoardRow::GapTo::flip_dowel:
    return fmt::format("\"{}\": {:.1f} mm to {} of the flip{}.", gap.part, gap.mm,
                       gap.to_middle ? "the middle of a dowel" : "the hole of a dowel",
                       numbered ? " in board" + number : number);
  case BoardRow::GapTo::board_edge:
    break;
  }
  const std::string board = (numbered ? "board" : "the board") + number;
  return gap.mm < -kPlaceRounding_mm
             ? fmt::format("\"{}\" reaches {:.1f} mm beyond {}.", gap.part, -gap.mm, board)
             : fmt::format("\"{}\": {:.1f} mm to the edge of {}.", gap.part, std::abs(gap.mm),
                           board);
}

std::string off_bed(double mm, const char* what) {
  return mm > kPlaceRounding_mm
             ? fmt::format("{} beyond the bed: {:.1f} mm, not supported.", what, mm)
             : fmt::format("{} beyond the bed: nothing.", what);
}

} // namespace

std::string_view gap_key(BoardRow::GapTo to) {
  return to == BoardRow::GapTo::part         ? "part"
         : to == BoardRow::GapTo::board_edge ? "board-edge"
                                             : "flip-dowel";
}

std::vector<std::string> board_sentences(const BoardRow& board) {
  std::vector<std::string> out;
  const bool numbered =
      std::ranges::any_of(board.gaps, [](const BoardRow::Gap& gap) { return gap.board != 0; });
  for (const BoardRow::Gap& gap : board.gaps)
    out.push_back(gap_text(gap, numbered));
  if (board.parts_off_bed_mm)
    out.push_back(off_bed(*board.parts_off_bed_mm, "Parts"));
  if (board.board_off_bed_mm)
    out.push_back(off_bed(*board.board_off_bed_mm, "Board"));
  return out;
}

std::vector<std::string> seam_sentences(const SeamRow& seam) {
  std::vector<std::string> out;
  out.push_back(fmt::format("\"{}\" on \"{}\": in 19 of 20 pieces the outer faces stand off one "
                            "another by no more than {:.2f} mm, at worst {:.2f} mm; {:.2f} mm of "
                            "it is known beforehand.",
                            seam.part, seam.with, seam.in_19_of_20_mm, seam.worst_mm,
                            seam.expected_mm));
  std::string most;
  for (std::size_t k = 0; k < std::min(kCausesTold, seam.causes.size()); ++k)
    most += (k == 0 ? "" : ", ") +
            fmt::format("{} {:.2f} mm", cause_text_short(seam.causes[k].id),
                        std::abs(seam.causes[k].expected_mm) + seam.causes[k].half_width_mm);
  if (!most.empty())
    out.push_back(fmt::format("Largest at x {:.1f} y {:.1f} of \"{}\", x {:.1f} y {:.1f} of "
                              "\"{}\", mostly by {}.",
                              seam.largest.at.x, seam.largest.at.y, seam.part,
                              seam.largest.at_other.x, seam.largest.at_other.y, seam.with, most));
  return out;
}

} // namespace leastwall
