// The result of `pour` as text.
#pragma once

#include "report/pour_report.h"

#include <string>

namespace leastwall {

/// 80 columns wide; `inch`: inches, fluid ounces and ounces first.
std::string pour_text(const PourReport& report, bool inch);

} // namespace leastwall
