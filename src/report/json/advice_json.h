// One line of advice in the JSON of a check and of a bed.
#pragma once

#include "budget/budget_rows.h"
#include "report/json/json_values.h"

namespace leastwall {

/// {"change", "gain_mm", "verdict", "cost", "set"}: `set` has each key of the job with its new
/// value as the job writes it, null where the key goes; left out where the job does not change.
Json advice_json(const AdviceRow& row);

} // namespace leastwall
