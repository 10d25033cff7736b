// How deep one surface reaches into the air of the other: branch and bound over cells.
#pragma once

#include "base/run_context.h"
#include "wall/sampling/refine.h"
#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <optional>

namespace leastwall {

struct Deepest {
  std::optional<WallSample> sample; ///< absent when nothing was found in the air
  /// False when the search was ended by its bound: the depth is then a lower bound, and no point
  /// lies deeper than `floor_mm` (negative, as walls are).
  bool settled = true;
  double floor_mm = 0;
  std::uint64_t divided = 0; ///< cells that were split
  std::uint64_t steps = 0;   ///< of searches (work_count.h)
};

/// The least (most negative) wall over the cells of `refined`, within 0.0005 mm, by splitting the
/// cells that may hold the deepest point, most promising first, until none can hold a deeper one;
/// at most `max_divided` of them, and none once searches have taken `max_steps`. The same answer on
/// any number of threads.
Deepest deepest(const RefinedMap& refined, const WallProbe& probe, std::uint64_t max_divided,
                std::uint64_t max_steps, const RunContext& run);

} // namespace leastwall
