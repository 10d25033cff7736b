// What each cause of error does at the thinnest place, as a table for a terminal.
#pragma once

#include "report/check_report.h"
#include "report/text/text_report.h"

#include <string>

namespace leastwall {

/// A heading, a row for each cause, and below what its words mean. Without `options.all` causes
/// that would be shown as 0 and thin no other place most are counted in one line instead. Empty
/// where there is no cause.
std::string cause_table(const WallReport& wall, const TextOptions& options);

} // namespace leastwall
