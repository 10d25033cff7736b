// How deep two surfaces cut through each other, and where.
#pragma once

#include "base/run_context.h"
#include "wall/least/least_wall.h"
#include "wall/sampling/refine.h"
#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <optional>

namespace leastwall {

struct CutThrough {
  WallPlace deepest;      ///< its wall is under 0, or 0 where they touch and no more
  std::uint32_t cell = 0; ///< of the skin's map, nearest to that place
  /// Where a search was ended by its bound: nowhere is it deeper than that, mm.
  std::optional<double> at_most_mm;
  std::uint64_t divided = 0; ///< cells that were split
  std::uint64_t steps = 0;   ///< of searches (work_count.h)
};

/// The deeper of what either surface reaches into the other's air (deepest(), depth_search.h);
/// `touch`: the pair of points where they meet, if one was found. The same answer on any number of
/// threads. Throws Cancelled.
CutThrough cut_through(const RefinedMap& skin, const WallProbe& skin_probe,
                       const RefinedMap& pocket, const WallProbe& pocket_probe,
                       const std::optional<CellPair>& touch, std::uint64_t max_steps,
                       const RunContext& run);

} // namespace leastwall
