// The reports of a check that are paper: the setup sheet and the card.
#pragma once

#include "base/run_context.h"
#include "check/reports/report_page.h"

#include <string>

namespace leastwall {

/// Of a job with a whole set-up. Throw RunError.
std::string report_sheet(const ReportInput& input, const RunContext& run);
std::string report_card(const ReportInput& input, const RunContext& run);

} // namespace leastwall
