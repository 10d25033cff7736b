#include "job/quarter_turn.h"

#include "base/maths/angles.h"

#include <cmath>
#include <numbers>

namespace leastwall {

Turn turn_by(double deg) {
  const double quarters = deg / 90;
  if (quarters == std::floor(quarters)) {
    const int q = ((static_cast<int>(std::fmod(quarters, 4)) % 4) + 4) % 4;
    constexpr Turn exact[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    return exact[q];
  }
  const double a = deg * std::numbers::pi / 180;
  return {maths::cos(a), maths::sin(a)};
}

} // namespace leastwall
