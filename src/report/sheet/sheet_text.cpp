#include "report/sheet/sheet_text.h"

#include "causes/model/cause_terms.h"
#include "report/sheet/sheet_drawing.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

std::optional<double> program_thickness(const Setup& setup, Side side) {
  const SideSetup& s = side_of(setup, side);
  return s.assumed_thickness_mm ? s.assumed_thickness_mm : setup.board.assumed_thickness_mm;
}

/// Whether the board was on the machine with this side up before.
bool clamped_before(const SetupSheetInput& input) {
  return input.step != nullptr && input.step->of_board > 1;
}

} // namespace

std::string sheet_length(double mm, bool inch, int decimals) {
  return LengthText{inch}.length(mm, decimals);
}

std::string sheet_place(Point2 at, bool inch, int decimals) {
  const std::string mm =
      fmt::format("X {}   Y {}", fixed_text(at.x, decimals), fixed_text(at.y, decimals));
  const LengthText words{inch};
  return inch ? fmt::format("X {}   Y {} in ({} mm)", words.number(at.x, decimals),
                            words.number(at.y, decimals), mm)
              : mm;
}

std::string sheet_wall(double mm, double limit_mm, bool inch) {
  return mm > 0 ? LengthText{inch}.wall_number(mm, limit_mm) : "hole";
}

std::string least_text(const CheckReport& report, bool inch) {
  const auto walls = [&](bool in_inches) {
    return report.wall.least_wall.expected_mm > 0
               ? fmt::format(
                     "{}, at worst {}",
                     sheet_wall(report.wall.least_wall.expected_mm, report.wall.limit_mm,
                                in_inches),
                     sheet_wall(report.wall.least_wall.worst_mm, report.wall.limit_mm, in_inches))
               : std::string();
  };
  const std::string limit = LengthText{inch}.length(report.wall.limit_mm);
  if (!(report.wall.least_wall.expected_mm > 0))
    return fmt::format("{} too deep{}, limit {}",
                       sheet_length(-report.wall.least_wall.expected_mm, inch, 3),
                       report.wall.least_wall.may_be_deeper ? " or more" : "", limit);
  return inch ? fmt::format("Expected {} in ({} mm), limit {}", walls(true), walls(false), limit)
              : fmt::format("Expected {}, limit {}", walls(false), limit);
}

std::string side_letter(Side side) {
  return side == Side::a ? "A" : "B";
}

std::string face_text(Side side) {
  return side == Side::a ? "POCKET FACE UP" : "SKIN FACE UP";
}

std::string edge_text(const SetupSheetInput& input, Side side, bool inch) {
  const SideMarks marks = sheet_marks(input, side);
  const double low = marks.board.low.y;
  const std::string y = inch ? sheet_length(low, inch, 1) : fixed_text(low, 1);
  const std::string where = marks.board_stated ? fmt::format(" (Y {})", y) : std::string();
  if (side == Side::a) {
    if (clamped_before(input))
      return fmt::format("The same edge as before, the one with the arrow{}.", where);
    return marks.board_stated
               ? fmt::format("The edge at Y {}. Pencil an arrow on it that points at you.", y)
               : "The job does not state where the board's edges lie. Pencil an arrow on the edge "
                 "towards you that points at you.";
  }
  if (input.setup.flip.line == FlipLine::along_y)
    return fmt::format("The same edge as on side A, the one with the arrow{}.", where);
  return fmt::format("The edge that was far from you on side A{}; the arrow is away from you.",
                     marks.board_stated ? fmt::format(" (now Y {})", y) : "");
}

std::string flip_text(const SetupSheetInput& input, bool inch) {
  const Flip& flip = input.setup.flip;
  const bool along_y = flip.line == FlipLine::along_y;
  std::string out = fmt::format(
      "{} The flip line is {} {}.",
      along_y ? "Like the page of a book: left edge to the right." : "Far edge towards you.",
      along_y ? "X" : "Y", inch ? sheet_length(flip.at_mm, inch, 2) : fixed_text(flip.at_mm, 2));
  if (!input.flip_stated)
    return out + " No one stated it: this line is taken, make sure of it.";
  if (flip.located_by == LocatedBy::edges)
    out += " The board is located by its edges.";
  else if (flip.dowels)
    out += fmt::format(" On dowels {} apart.", sheet_length(flip.dowels->spacing_mm, inch, 1));
  return out;
}

BoardMove board_move(const SetupSheetInput& input, Side side, bool inch) {
  if (side == Side::b) {
    const std::string how = flip_text(input, inch);
    return {"TURN THE BOARD OVER", how, how};
  }
  const bool edges = input.setup.flip.located_by == LocatedBy::edges;
  if (clamped_before(input))
    return edges ? BoardMove{"PUT THE BOARD BACK",
                             "Put it back against the same edges, pocket face up, the edge with "
                             "the arrow towards you. Sweep the bed first.",
                             "Put it back against the same edges."}
                 : BoardMove{"PUT THE BOARD BACK",
                             "Put it back on the same dowels, pocket face up, the edge with the "
                             "arrow towards you: turned by 180 degrees it may fit on the dowels, "
                             "too. Sweep the bed and the holes first.",
                             "Put it back on the same dowels; turned by 180 degrees it may fit, "
                             "too."};
  if (!input.step || input.step->boards < 2)
    return {};
  const std::uint32_t board = input.step->board + 1;
  if (board == 1)
    return {"CLAMP BOARD 1", "A board that is not cut yet. Write 1 beside the arrow.",
            "Write 1 beside the arrow."};
  return {fmt::format("CLAMP BOARD {}, A NEW ONE", board),
          fmt::format("A new board that is not cut yet: clamp it {}, as board 1 in set-up 1. Write "
                      "{} beside the arrow. Touch Z on it anew.",
                      edges ? "against the edges" : "on the dowels", board),
          fmt::format("A new board that is not cut yet. Write {} beside the arrow. Touch Z anew.",
                      board)};
}

std::string zero_text(const SetupSheetInput& input, Side side) {
  if (side_of(input.setup, side).zero == ZeroFrom::bed)
    return "On the bare spoilboard, swept clean.";
  return side == Side::a ? "On top of the board: the pocket face."
                         : "On top of the board as it now lies: the skin face.";
}

std::array<std::string, 2> no_touch_text(const SideMarks& marks, ZeroFrom zero) {
  return {(marks.touch_stated ? "The stated point cannot serve. "
                              : "No point is stated, and the middle cannot serve. ") +
              touch_trouble(marks.touch_place) + ".",
          zero == ZeroFrom::bed ? "State touch_point beside the board and check again."
                                : "State touch_point where the face stays whole and check again."};
}

std::vector<std::string> program_text(const SetupSheetInput& input, Side side, bool inch) {
  std::vector<std::string> out;
  const SideSetup& s = side_of(input.setup, side);
  if (const auto thickness = program_thickness(input.setup, side))
    out.push_back(
        fmt::format("Program made for a board of {}.", sheet_length(*thickness, inch, 2)));
  if (s.plate_error_mm != 0)
    out.push_back(fmt::format("Touch plate: really {} {} than entered. Enter its true thickness.",
                              sheet_length(std::abs(s.plate_error_mm), inch, 3),
                              s.plate_error_mm > 0 ? "thicker" : "thinner"));
  if (s.sanding_mm != 0)
    out.push_back(fmt::format("Sanding afterwards takes {}.", sheet_length(s.sanding_mm, inch)));
  const Point2 origin = input.setup.bed.part_origin_mm;
  if (side == Side::a && (origin.x != 0 || origin.y != 0))
    out.push_back(
        fmt::format("X 0, Y 0 of the program lies on the bed at {}.", sheet_place(origin, inch)));
  return out;
}

std::vector<std::string> bit_text(const SetupSheetInput& input, Side side, bool inch) {
  const SideSetup& s = side_of(input.setup, side);
  const bool setter = s.bit.zero == BitZero::tool_setter;
  std::vector<std::string> out;
  if (s.roughing)
    out.push_back(
        fmt::format("Roughing bit, leaves {}. {}", sheet_length(s.roughing->allowance_mm, inch),
                    setter && !s.roughing->touch_off ? "Touches Z zero, then the tool setter."
                                                     : "Touches Z zero."));
  else
    out.push_back(
        "Roughing bit, if any (none stated): must leave no mark in the wall. " +
        std::string(setter ? "Touches Z zero, then the tool setter." : "Touches Z zero."));
  std::string finishing = "Finishing bit";
  if (s.bit.ball_radius_mm)
    finishing += fmt::format(", ball radius {}", sheet_length(*s.bit.ball_radius_mm, inch));
  finishing += setter ? ". Length from the tool setter; does not touch Z zero."
                      : ". Touches Z zero again, at the same point.";
  out.push_back(finishing);
  return out;
}

std::vector<CheckLine> check_lines(const SetupSheetInput& input, Side side, bool inch) {
  const Board& board = input.setup.board;
  const bool setter = side_of(input.setup, side).bit.zero == BitZero::tool_setter;
  std::vector<CheckLine> out;
  std::string stated;
  if (board.measured_thickness_mm)
    stated = "measured " + sheet_length(*board.measured_thickness_mm, inch);
  else if (board.assumed_thickness_mm)
    stated = "taken as " + sheet_length(*board.assumed_thickness_mm, inch);
  if (side == Side::a) {
    out.push_back({.what = "Date, and which board", .words = true});
    out.push_back({"Board thickness at the touch point", stated, false});
    out.push_back({"Board thickness beside the thinnest place", stated, false});
  } else {
    out.push_back({"Board thickness now, resin cured", stated, false});
    out.push_back(
        {"Gap under the middle (feeler gauge)",
         board.resin_cup_mm != 0 ? "stated " + sheet_length(board.resin_cup_mm, inch) : "", false});
  }
  out.push_back({"Touch-off, roughing bit: Z shown", "", false});
  out.push_back(
      {setter ? "Tool setter, finishing bit: length shown" : "Touch-off, finishing bit: Z shown",
       "", false});
  out.push_back({side == Side::a ? "Board flat on the bed, no chips under it, clamped"
                                 : "Dowels or edges seated, no chips, clamped",
                 "", true});
  return out;
}

std::vector<std::string> caution_text() {
  return {
      "This sheet is advice computed from the numbers given, never a guarantee. Manuals, safety "
      "data sheets and local rules come before it.",
      "Spinning cutters: eye and ear protection, hands away, work clamped, know where the stop "
      "is. Resin heats as it cures and gives off fumes: keep to its pour depth, ventilate, wear "
      "gloves. Wood dust harms lungs and can burn: extract it, wear a mask."};
}

} // namespace leastwall
