// The result of `check` beside that of an earlier one, for other programs.
#pragma once

#include "report/check_report.h"
#include "report/comparison.h"

#include <string>

namespace leastwall {

/// As json_report, with a last member "against" (check.schema.json): verdict, least wall and chance
/// before and after, what differs in set-up and meshes, and each wall that both tell. What one of
/// them does not tell is left out.
std::string json_report_against(const CheckReport& report, const Comparison& against);

} // namespace leastwall
