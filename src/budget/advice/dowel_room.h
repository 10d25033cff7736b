// Whether the dowels stand clear of the part.
#pragma once

#include "base/notice.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <vector>

namespace leastwall {

/// From the middle of a dowel to the part or to the edge of the board: a usual pin and as much wood
/// beside it, mm, common practice.
inline constexpr double kDowelRoom_mm = 8;

/// What is wrong with where the dowels stand, one notice for all in the part (dowel-in-piece, a
/// doubt) and one for all nearer to it than kDowelRoom_mm (dowel-near-piece). The part is what
/// `cells` cover seen from above; `middle_of_board`: model x, y.
std::vector<Notice> dowel_notices(const Setup& setup, Point2 middle_of_board,
                                  std::span<const WallSample> samples, std::span<const Tri> cells);

} // namespace leastwall
