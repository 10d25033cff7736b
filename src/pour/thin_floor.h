// Where the wood round a pocket is thin: resin may bleed through it, its heat may mark it.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"
#include "spatial/closest_surface.h"

#include <array>
#include <cstddef>
#include <vector>

namespace leastwall {

struct ThinFloor {
  double limit_mm = 0;
  double area_mm2 = 0;                   ///< of the pocket's surface whose wall is under the limit
  double least_mm = 0;                   ///< least wall found at a corner of the pieces looked at
  Vec3 at;                               ///< there, on the pocket
  std::vector<std::array<Vec3, 3>> thin; ///< pieces under the limit, for pictures
};

/// `wet`: facets of the pocket. Walls are distances to
/// `skin`, as drawn. Facets are halved until their pieces are on one side of the limit, or half
/// of the limit long; ends at a number of pieces that grows with the facets. The same on
/// any number of threads.
ThinFloor thin_floor(const TriMesh& wet, const ClosestSurface& skin, double limit_mm,
                     const RunContext& run);

} // namespace leastwall
