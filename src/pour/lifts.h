// A pour in lifts that are equal in depth.
#pragma once

#include "base/run_context.h"
#include "pour/wet_surface.h"

#include <cstddef>
#include <vector>

namespace leastwall {

struct Lift {
  double from_z_mm = 0, to_z_mm = 0; ///< model z; the last one ends at the pocket face
  double volume_mm3 = 0;
  std::size_t pools = 1; ///< separate pools that its surface has
};

inline constexpr std::size_t kMaxLifts = 100;

/// How many lifts no deeper than `deepest_mm` make `depth_mm`: an exact multiple gives no extra one
/// (0.00002 mm, more than single precision takes from a drawn depth, is no lift). 0 for no depth.
std::size_t lift_count(double depth_mm, double deepest_mm);

/// From the deepest point up to the face, the first lift first; their volumes add up to that of the
/// pocket. `count` at least 1.
std::vector<Lift> lifts_of(const WetSurface& wet, std::size_t count, const RunContext& run);

} // namespace leastwall
