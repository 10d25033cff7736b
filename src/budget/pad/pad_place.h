// Where the witness pad goes when no one says.
#pragma once

#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <span>

namespace leastwall {

inline constexpr double kPadSize_mm =
    15; ///< square; room for a bit and a depth rod, common practice

struct PadPlace {
  Point2 at;         ///< middle, model x, y
  bool clear = true; ///< of part, touch points and dowels, by half the pad and a margin
};

/// The first clear place of a fixed order along the edge of the board, low corner first; where none
/// is clear, the one that is farthest from all it should keep clear of. The part is what `samples`
/// and, however far apart these are, `cells` cover. `setup.board.footprint` must be set.
PadPlace pad_place(const Setup& setup, std::span<const WallSample> samples,
                   std::span<const Tri> cells = {});

/// Whether a pad with its middle at `at` lies clear of the part, by the same margin.
bool pad_clear_of_part(std::span<const WallSample> samples, std::span<const Tri> cells, Point2 at);

} // namespace leastwall
