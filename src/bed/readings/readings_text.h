// First half of reading a readings file: text into rows of cells, before any cell has a meaning.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

struct TextRow {
  std::size_t line = 0;           ///< in the file, from 1
  std::vector<std::string> cells; ///< trimmed, unquoted
};

/// `key = value` of a "# leastwall:" line; key in lower case.
struct TextDirective {
  std::size_t line = 0;
  std::string key, value;
};

struct ReadingsText {
  char separator = ' '; ///< ',', ';', tab, or a blank for runs of blanks
  bool decimal_comma = false;
  std::vector<TextRow> rows; ///< without blank lines and comments
  std::vector<TextDirective> directives;
};

/// Splits the text. Throws InputError with `name` and the line for text that is no text, and for
/// mixed decimal marks.
ReadingsText split_readings(std::string_view text, const std::string& name);

/// The number in a cell; absent when it is none. Never locale-dependent, never infinite or NaN.
std::optional<double> cell_number(std::string_view cell, bool decimal_comma);

/// True for an empty cell and the marks people write for "not read".
bool is_missing_mark(std::string_view cell);

std::string_view trimmed(std::string_view text);

} // namespace leastwall
