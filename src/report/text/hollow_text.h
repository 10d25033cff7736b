// What `hollow` says in a terminal.
#pragma once

#include "report/check_report.h"
#include "report/hollow_report.h"

#include <string>

namespace leastwall {

/// Lines of at most 80 columns; `check`: of the job with the pocket that was made.
std::string hollow_text(const HollowReport& made, const CheckReport& check, const std::string& file,
                        bool inch);

/// Why no pocket was written.
std::string no_pocket_text(const NoPocket& why, bool inch);

} // namespace leastwall
