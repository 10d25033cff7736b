// Words and numbers of a text file, with line numbers. Independent of the locale.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

namespace leastwall {

/// Reads words separated by blanks, tabs and line ends (LF, CRLF or CR). Errors are InputErrors
/// that name the file and the line.
class TextScanner {
 public:
  /// `first_line`: number of the line on which `text` begins.
  TextScanner(std::string_view text, const std::filesystem::path& file, std::size_t first_line = 1)
      : at_(text.data()), end_(text.data() + text.size()), file_(file), line_(first_line),
        word_line_(first_line) {}

  /// Next word; empty at the end of the text.
  std::string_view word();
  /// Next word of this line; empty when the line has no more.
  std::string_view word_in_line();
  /// Goes on to the next word, on whatever line.
  void skip_blank_lines() { skip(true); }
  /// Goes past the end of this line; returns what was left of it, without the line end.
  std::string_view rest_of_line();
  /// Next word as a number, written with a decimal point; throws for anything else, thousands
  /// separators and decimal commas included. `nan` and `inf` are numbers here.
  double number();
  /// As number(), but the number must stand on this line.
  double number_in_line();
  /// As number(), of a word that was taken before.
  double number_of(std::string_view word) const;

  /// Line of the last word returned, counted from 1.
  std::size_t line() const { return word_line_; }
  std::string_view left() const { return {at_, static_cast<std::size_t>(end_ - at_)}; }

  /// Throws InputError "FILE: line N: what; todo".
  [[noreturn]] void refuse(std::string_view what, std::string_view todo) const;

 private:
  void skip(bool over_lines);
  std::string_view take();

  const char* at_;
  const char* end_;
  const std::filesystem::path& file_;
  std::size_t line_, word_line_;
};

/// True when the word equals `lower_case`, which must be in lower case, letter case ignored.
bool is_word(std::string_view word, std::string_view lower_case);

} // namespace leastwall
