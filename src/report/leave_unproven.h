// The verdict of a piece whose meshes leave its walls unproven.
#pragma once

#include "report/check_report.h"

namespace leastwall {

/// Makes the verdict `unproven` and takes away what promises a verdict: its basis, advice, the
/// answer about resurfacing, how large each cause may be, the witness pad (its heights come from
/// the same meshes). What was measured and computed stays as it is.
void leave_unproven(CheckReport& report);

} // namespace leastwall
