// The result of `check` for other programs.
#pragma once

#include "report/check_report.h"

#include <string>

namespace leastwall {

/// Name and version of the layout; it changes when a key changes its meaning or goes away.
inline constexpr const char* kCheckSchemaId = "leastwall/check/2";

/// One JSON object in UTF-8, keys in a fixed order, two blanks a level, a newline at the end; its
/// layout is check.schema.json beside this file. Lengths mm, areas mm2, model space, rounded to
/// six decimals without "-0". What is unknown is left out, never null or zero. Text that is not
/// UTF-8 has its bad bytes replaced by U+FFFD. The same report gives the same bytes.
/// Throws RunError when a number is not finite.
std::string json_report(const CheckReport& report);

} // namespace leastwall
