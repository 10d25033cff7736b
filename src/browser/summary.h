// An answer in a few lines, for the screen above the page.
#pragma once

#include "report/check_report.h"

#include <string>

namespace leastwall {

/// A JSON object of texts in the words of the reports: "title", "verdict" (as in the report's
/// JSON), "banner", "ground", "sentence"; "figures", a list of names and values; "advice", the best
/// three changes, each "text" and, where the job can say it, "set" as in the report's JSON;
/// "notices", a list of "severity" and "text", the gravest first; "unstated", how much no one
/// stated, empty where all was; "given", what was taken instead, a list. `inch`: inches first.
std::string summary_json(const CheckReport& report, bool inch);

} // namespace leastwall
