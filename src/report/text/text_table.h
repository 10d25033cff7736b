// A small table in plain text: columns as wide as their widest cell.
#pragma once

#include <string>
#include <vector>

namespace leastwall {

struct TextTable {
  std::vector<std::string> heads;             ///< no heading line when all are empty
  std::vector<bool> left;                     ///< per column: true left, false right aligned
  std::vector<std::vector<std::string>> rows; ///< as many cells as heads each
  std::vector<std::string> below = {};        ///< a line under each row, wrapped; may be absent
};

/// Lines indented by two, columns two blanks apart, no blanks at line ends. A column that is empty
/// in every row is dropped. When the table is wider than `width`, the columns stand one blank
/// apart; a line that still does not fit is wrapped.
std::string text_table(const TextTable& table, int width);

} // namespace leastwall
