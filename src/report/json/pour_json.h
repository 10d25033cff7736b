// The result of `pour` for other programs.
#pragma once

#include "report/pour_report.h"

#include <string>

namespace leastwall {

/// Name and version of the layout; it changes when a key changes its meaning or goes away.
inline constexpr const char* kPourSchemaId = "leastwall/pour/1";

/// One JSON object, written as json_report() writes; its layout is pour.schema.json beside this
/// file. Throws RunError when a number is not finite.
std::string pour_json(const PourReport& report);

} // namespace leastwall
