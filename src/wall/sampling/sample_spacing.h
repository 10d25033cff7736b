// How finely a skin is sampled: what measuring and the estimate of its memory agree on.
#pragma once

#include "mesh/mesh.h"
#include "wall/sampling/measure_options.h"
#include "wall/sampling/refine.h"

namespace leastwall {

/// About the most cells that the fine spacing chosen below cuts a skin into.
inline constexpr std::size_t kMaxFineCells = 1'000'000;

/// Walls under this are measured finely: the limit (or the least wall as it will be), and with some
/// room every error that may come on top (`max_thinning_mm`). The room lets errors be asked for
/// that are larger than stated (see measured_sizes.h).
double fine_ceiling_mm(double limit_mm, double max_thinning_mm);

/// Spacings that resolve a wall as thin as the ceiling.
RefineOptions sample_spacing(const MeasureOptions& options, const TriMesh& skin);

} // namespace leastwall
