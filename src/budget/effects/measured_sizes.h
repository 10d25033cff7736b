// Up to which size an error can be judged from the walls that were measured.
#pragma once

#include "base/run_context.h"
#include "causes/model/cause.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <vector>

namespace leastwall {

/// For each cause the largest size, all others as stated, up to which no place that was measured
/// only coarsely can come under the limit: such a place has a wall of at least `spare_mm` over it.
///
/// With T the largest thinning over the samples, sum_k (half-width - shift), and m the largest
/// change of a wall by one unit of the cause, a size s thins no wall by more than
/// T + (s - size) m; sizes that one value of the job states grow together, and then m is the sum of
/// theirs. Never less than 0. Infinite for a cause that moves nothing.
std::vector<double> measured_sizes(std::span<const Cause> causes,
                                   std::span<const WallSample> samples, double spare_mm,
                                   const RunContext& run);

} // namespace leastwall
