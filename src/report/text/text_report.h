// The result of `check` for people at a terminal: verdict first, in plain words.
#pragma once

#include "report/check_report.h"
#include "report/comparison.h"

#include <string>

namespace leastwall {

struct TextOptions {
  bool colour = false;    ///< ANSI colours for the verdict; it reads as well without
  int width = 80;         ///< columns; at least 40 are used
  bool show_inch = false; ///< inches first, millimetres beside them
  bool all = false;       ///< everything; else what decides, and in one line what is left out
  const Comparison* against = nullptr; ///< an earlier check; must outlive the call
};

/// Complete text in UTF-8 with a newline at the end. No line is wider than `options.width`,
/// whatever names and texts the report holds. Millimetres with at most three decimals. Thin places
/// carry the numbers of the picture (1 = thinnest); ten at most are listed (five without
/// `options.all`), the rest counted. Without `options.all` every warning stays, and every value
/// that no one stated and that makes walls come out too good; a last line names what is left out.
std::string text_report(const CheckReport& report, const TextOptions& options);

} // namespace leastwall
