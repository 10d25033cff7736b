// What `mend` says.
#pragma once

#include "report/check_report.h"
#include "report/mend_report.h"

#include <string>

namespace leastwall {

/// `check`: of the job with the mended pocket; `file`: where that was written.
std::string mend_text(const MendReport& made, const CheckReport& check, const std::string& file,
                      bool inch);

/// The walls of the pocket hold as they are; `pocket`: its name, `check`: of the job.
std::string nothing_to_mend_text(const std::string& pocket, const CheckReport& check, bool inch);

} // namespace leastwall
