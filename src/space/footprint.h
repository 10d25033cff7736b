// Places and upright rectangles seen from above, mm.
#pragma once

#include <algorithm>

namespace leastwall {

struct Point2 {
  double x = 0, y = 0;
  bool operator==(const Point2&) const = default;
};

/// Smallest upright rectangle around the board (or the part), model x, y.
struct Footprint {
  Point2 low, high;
  /// Grows to hold `p`.
  void add(Point2 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  Point2 middle() const { return {(low.x + high.x) / 2, (low.y + high.y) / 2}; }
  bool operator==(const Footprint&) const = default;
};

} // namespace leastwall
