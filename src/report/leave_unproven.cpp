#include "report/leave_unproven.h"

namespace leastwall {

void leave_unproven(CheckReport& report) {
  report.verdict = Verdict::unproven;
  report.verdict_basis.clear();
  report.advice.clear();
  report.resurface.reset();
  for (CauseRow& cause : report.causes)
    cause.largest_allowed_mm.reset();
  report.pad.reset();
}

} // namespace leastwall
