// Samples at given places, beside those of the corners.
#pragma once

#include "base/run_context.h"
#include "space/footprint.h"
#include "wall/sampling/wall_probe.h"

#include <optional>
#include <span>

namespace leastwall {

/// Adds a sample, as a minimum of its cell, wherever one of `places` (model x, y) lies over or
/// under a cell that has a corner thinner than `below_mm`, or one that lies no more than that under
/// the pocket face at `face_z_mm`; upright cells are left out. The same answer on any number of
/// threads.
void add_samples_at(WallMap& map, std::span<const Point2> places, const WallProbe& probe,
                    double below_mm, std::optional<double> face_z_mm, const RunContext& run);

} // namespace leastwall
