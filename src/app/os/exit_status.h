// The exit statuses, and the one place that maps errors to them.
#pragma once

#include "budget/effects/verdict.h"

namespace leastwall {

enum ExitStatus : int {
  kHolds = 0,      ///< every wall holds
  kDoesNot = 1,    ///< some wall does not
  kWrongInput = 2, ///< the input or the call is wrong
  kUnfinished = 3  ///< memory, disk, cancelled, or a fault of ours
};

constexpr ExitStatus status_of(Verdict verdict) {
  return verdict == Verdict::safe ? kHolds : kDoesNot;
}

/// Call inside a catch block: prints the one line of the current exception on stderr and returns
/// its status.
ExitStatus report_current_exception();

} // namespace leastwall
