// A change that would help, as reports show it.
#pragma once

#include "budget/advice/job_change.h"
#include "budget/effects/verdict.h"

#include <string>
#include <vector>

namespace leastwall {

struct AdviceRow {
  std::string change;              ///< one sentence in shop words
  double gain_mm = 0;              ///< gain of the wall that holds with the accepted chance
  Verdict verdict = Verdict::safe; ///< with this change
  std::string cost;                ///< "free", "work" or "model"
  /// What to write into the job so that it is made, in the units of the job; empty for the model.
  std::vector<JobChange> set = {};
};

} // namespace leastwall
