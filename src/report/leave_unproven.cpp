#include "report/leave_unproven.h"

namespace leastwall {

void leave_unproven(CheckReport& report) {
  report.wall.verdict = Verdict::unproven;
  report.basis.text.clear();
  report.advice.clear();
  report.resurface.reset();
  for (CauseRow& cause : report.wall.causes)
    cause.largest_allowed_mm.reset();
  report.pad.reset();
}

} // namespace leastwall
