// What a measurement left open because a bound on its work was reached, in words.
#pragma once

#include "base/notice.h"
#include "wall/measure_wall.h"

#include <vector>

namespace leastwall {

struct JudgedPiece {
  double limit_mm = 0;
  /// The most that all errors together can thin a wall, with what is known of it, mm >= 0.
  double thinner_mm = 0;
  /// The verdict, whatever was left open, is that some wall does not hold.
  bool fails = false;
};

/// Notices about `wall.left_open`. Nothing is proven (Severity::unproven) unless the least wall
/// that is possible holds the limit with every error against it, or the piece fails as measured.
std::vector<Notice> left_open_findings(const WallMeasurement& wall, const JudgedPiece& piece);

} // namespace leastwall
