// The sentences of the setup sheet for one side.
#pragma once

#include "report/sheet/setup_sheet.h"

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

/// Side A again: what the board is put back on.
std::string put_back_text(const SetupSheetInput& input);

/// Where Z zero is, in words.
std::string zero_text(const SetupSheetInput& input, Side side);

/// Thickness that the program was made for, touch plate, sanding: one sentence each.
std::vector<std::string> program_text(const SetupSheetInput& input, Side side, bool inch);

/// One line a bit, in the order of use: what it is and what it touches.
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
