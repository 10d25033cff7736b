// The sentences of the setup sheet for one side.
#pragma once

#include "report/maps/side_marks.h"
#include "report/sheet/setup_sheet.h"

#include <array>
#include <string>
#include <vector>

namespace leastwall {

/// "12.30 mm", or for a job in inches "0.4843 in (12.30 mm)".
std::string sheet_length(double mm, bool inch, int decimals = 2);

/// "X 12.3   Y -4.0", in mm; "X 0.484   Y -0.157 in (X 12.3   Y -4.0 mm)".
std::string sheet_place(Point2 at, bool inch, int decimals = 1);

/// A wall for a table, in the unit of the job: "hole" where it is cut through.
std::string sheet_wall(double mm, double limit_mm, bool inch);

/// The least wall and the limit, for the head.
std::string least_text(const CheckReport& report, bool inch);

/// "A" or "B".
std::string side_letter(Side side);

/// "POCKET FACE UP" or "SKIN FACE UP".
std::string face_text(Side side);

/// Which edge of the board is towards the operator.
std::string edge_text(const SetupSheetInput& input, Side side, bool inch);

/// Side B: how to turn the board over, and what locates it.
std::string flip_text(const SetupSheetInput& input, bool inch);

/// How the board comes to lie as this clamping has it: a new one of several, put back, turned over.
/// Empty for the only board, clamped for the first time.
struct BoardMove {
  std::string heading, text;
  std::string brief; ///< for the card
};
BoardMove board_move(const SetupSheetInput& input, Side side, bool inch);

/// Where Z zero is, in words.
std::string zero_text(const SetupSheetInput& input, Side side);

/// Where no one can touch Z: why, and what to do about it. `marks`: with such a touch point.
std::array<std::string, 2> no_touch_text(const SideMarks& marks, ZeroFrom zero);

/// Thickness that the program was made for, touch plate, sanding: one sentence each.
std::vector<std::string> program_text(const SetupSheetInput& input, Side side, bool inch);

/// One line a bit, in the order of use: what it is and what it touches; without drills.
std::vector<std::string> bit_text(const SetupSheetInput& input, Side side, bool inch);

/// A line of the table to fill in: what to measure, what was stated about it.
struct CheckLine {
  std::string what, stated = {};
  bool tick = false;  ///< a box to tick in place of a blank for a number
  bool words = false; ///< a long blank to write on
};
std::vector<CheckLine> check_lines(const SetupSheetInput& input, Side side, bool inch);

std::vector<std::string> caution_text();

} // namespace leastwall
