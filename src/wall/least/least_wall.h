// The least wall over whole surfaces, not only over samples.
#pragma once

#include "base/run_context.h"
#include "wall/sampling/refine.h"
#include "wall/sampling/wall_map.h"

#include <optional>
#include <span>

namespace leastwall {

/// Nothing in the cell is nearer to the other surface than this, mm; see distance_floor().
double cell_floor(const WallMap& map, const Tri& cell);

/// Least distance between the cells of `map` and the other surface, and the cell it lies in. Cells
/// whose samples prove that they hold nothing under the best so far are passed over; the rest is
/// decided triangle against triangle. 0 where the surfaces touch or cross.
struct CellPair {
  NearestPair pair; ///< on_first on the map's surface
  std::uint32_t cell = 0;
};
struct LeastPair {
  std::optional<CellPair> pair;
  /// Set when the search was ended by its bound: nothing is nearer than this, mm.
  std::optional<double> floor_mm;
  std::uint64_t cells_asked = 0, steps = 0; ///< steps of searches (work_count.h)
};
/// Ends when searches have taken `max_steps`. The same answer on any number of threads.
LeastPair least_pair(const WallMap& map, const ClosestSurface& there, std::uint64_t max_steps,
                     const RunContext& run);

struct MinimaAdded {
  std::uint64_t steps = 0; ///< of searches (work_count.h)
  /// Where the search was ended by its bound: the longest edge of a cell that was not asked, mm;
  /// 0 when all were.
  double unasked_mm = 0;
};
/// Adds local minima to `map`: around every sample that is thinner than its neighbours and under
/// `ceiling_mm`, the thinnest point of the cells that meet there. With `only`, one for each sample,
/// only around samples that have 1 in it. Ends when searches have taken about `max_steps`. The same
/// answer on any number of threads.
MinimaAdded add_minima(WallMap& map, const WallProbe& probe, double ceiling_mm,
                       std::uint64_t max_steps, const RunContext& run,
                       std::span<const unsigned char> only = {});

/// The first cell of `map` that lies nearest to `p`, which is on the surface.
std::uint32_t cell_at(const WallMap& map, Vec3 p, const RunContext& run);

} // namespace leastwall
