// The sentences of the setup sheet for one side.
#pragma once

#include "report/setup_sheet.h"

#include <string>
#include <vector>

namespace leastwall {

/// "12.30", or "12.30 (0.4843 in)" beside inches.
std::string sheet_length(double mm, bool inch, int decimals = 2);

/// A wall for a table, mm: "hole" where it is cut through.
std::string sheet_wall(double mm, double limit_mm);

/// "POCKET FACE UP" or "SKIN FACE UP".
std::string face_words(Side side);

/// Which edge of the board is towards the operator.
std::string edge_words(const SetupSheetInput& input, Side side);

/// Side B: how to turn the board over, and what locates it.
std::string flip_words(const SetupSheetInput& input, bool inch);

/// Where Z zero is, in words.
std::string zero_words(const SetupSheetInput& input, Side side);

/// Thickness that the program was made for, touch plate, sanding: one sentence each.
std::vector<std::string> program_words(const SetupSheetInput& input, Side side, bool inch);

/// One line a bit, in the order of use: what it is and what it touches.
std::vector<std::string> bit_words(const SetupSheetInput& input, Side side, bool inch);

/// A line of the table to fill in: what to measure, what was stated about it.
struct CheckLine {
  std::string what, stated;
  bool tick = false; ///< a box to tick in place of a blank for a number
};
std::vector<CheckLine> check_lines(const SetupSheetInput& input, Side side, bool inch);

std::vector<std::string> caution_words();

} // namespace leastwall
