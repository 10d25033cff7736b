#include "budget/trials/place_spread.h"

#include "budget/effects/spread.h"

#include <algorithm>
#include <cstddef>

namespace leastwall {

WallSpread central_95(std::vector<double> walls) {
  std::sort(walls.begin(), walls.end());
  const std::size_t m = walls.size();
  const std::size_t q = (38 * m + 20) / 40; // 0.95 m + 1/2, whole numbers only
  const std::size_t r = std::max<std::size_t>(1, (m - q + 1) / 2);
  return {walls[r - 1], walls[std::min(r + q, m) - 1]};
}

WallSpread spread_at(std::span<const Cause> causes, const WallSample& place,
                     const TrialOptions& options, const RunContext& run) {
  const PieceTrials trials(causes, {&place, 1}, options, run);
  WallSpread spread = central_95(trials.least_walls({}, run));
  const Limits::At limits = Limits(causes).at({place.at, place.n, place.wall_mm});
  const double expected = place.wall_mm + limits.shift;
  const double low = expected - limits.half_width, high = expected + limits.half_width;
  return {std::clamp(spread.low_mm, low, high), std::clamp(spread.high_mm, low, high)};
}

} // namespace leastwall
