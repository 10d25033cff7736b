// Lines of text about a pocket that was made.
#pragma once

#include <string>
#include <string_view>

namespace leastwall {

class MadeLines {
 public:
  explicit MadeLines(bool inch) : inch_(inch) {}
  /// A paragraph, 80 columns wide; `first` in front of its first line. Lengths in mm are shown in
  /// inches, too, where asked for.
  void add(std::string_view text, std::string_view first = "");
  std::string take() { return std::move(out_); }

 private:
  bool inch_;
  std::string out_;
};

} // namespace leastwall
