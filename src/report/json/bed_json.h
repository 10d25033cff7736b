// The result of `bed` for other programs.
#pragma once

#include "report/bed_report.h"

#include <string>

namespace leastwall {

/// Name and version of the layout; it changes when a key changes its meaning or goes away.
inline constexpr const char* kBedSchemaId = "leastwall/bed/1";

/// One JSON object, written as json_report() writes; its layout is bed.schema.json beside this
/// file. Throws RunError when a number is not finite.
std::string bed_json(const BedReport& report);

} // namespace leastwall
