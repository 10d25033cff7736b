// What the page says before its scripts run, and where none runs: figures, advice, thin places,
// causes, lists, as HTML. The scripts write the same anew when the unit is switched.
#pragma once

#include "report/check_report.h"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwall {

/// Names of places in page.html and what stands there. `report`: of the wall that is shown; `said`: of
/// the whole job, what would help, what is to be known, taken as given and not checked.
std::vector<std::pair<std::string_view, std::string>>
page_still(const CheckReport& report, const CheckReport& said, bool inch);

} // namespace leastwall
