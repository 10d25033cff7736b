// Text for a terminal, paragraph by paragraph.
#pragma once

#include "report/words/length_text.h"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwall {

class Paragraphs {
 public:
  /// `words`: lengths in mm get their inches where it says so; `width`: columns.
  explicit Paragraphs(LengthText words, int width = 80) : words_(words), width_(width) {}

  /// `first` stands in front of the first line.
  void para(std::string_view text, std::string_view first = "");
  /// After an empty line, unless it is the first.
  void heading(std::string_view text);
  /// A heading and its items; nothing where there are none.
  void list(std::string_view title, const std::vector<std::string>& items);
  std::string take() { return std::move(out_); }

 protected:
  LengthText words_;
  int width_;
  std::string out_;
};

} // namespace leastwall
