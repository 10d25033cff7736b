#include "budget/effects/cut_area.h"

#include <array>

namespace leastwall {

bool cut_there(std::span<const WallSample> samples, Point2 at, double near_mm) {
  std::array<bool, 4> quarter{};
  for (const WallSample& s : samples) {
    const double dx = s.at.x - at.x, dy = s.at.y - at.y;
    if (dx * dx + dy * dy <= near_mm * near_mm)
      return true;
    quarter[(dx > 0 ? 1 : 0) + (dy > 0 ? 2 : 0)] = true;
  }
  return quarter[0] && quarter[1] && quarter[2] && quarter[3];
}

} // namespace leastwall
