// One small picture of the wall for where no script runs: the skin from above, as an SVG.
#pragma once

#include "report/check_report.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <string>

namespace leastwall {

/// The skin as the board lies for side A: x to the right, y up, coloured by `expected_mm`, one
/// value a sample, in steps of the palette; close stripes where it is under the limit, wide ones
/// where `worst_mm` is, black where it is zero or less; thin places of `report` with their numbers,
/// of two over each other the thinner one's; the scale of colours below in mm, with `inch` in
/// inches. It refers to nothing. The same input gives the same bytes.
std::string page_sketch(const WallMap& skin, std::span<const double> expected_mm,
                        std::span<const double> worst_mm, const WallReport& report, bool inch);

} // namespace leastwall
