// Finer facets where a surface is to change, and nowhere else.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"
#include "spatial/triangle_distance.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace leastwall {

struct SplitMesh {
  TriMesh mesh; ///< the old corners first, in their order
  /// Of each facet the one that it is a part of. A facet that was not split stands where it stood.
  std::vector<std::uint32_t> from;
};

/// A place on a facet.
struct FacetPlace {
  Vec3 at;
  std::uint32_t facet = 0;
};

/// Halves facets at their longest edge (Rivara 1984), neighbours with them, until no facet that is
/// `wanted` has an edge over `longest_mm`. All corners lie on the old surface; closed stays closed,
/// and angles are at least half of those before. `mesh` is welded and has no edge of three facets.
/// Throws RunError where more than `most` facets would come of it; Cancelled.
SplitMesh split_facets(const TriMesh& mesh, double longest_mm,
                       const std::function<bool(const TriangleCorners&)>& wanted, std::size_t most,
                       const RunContext& run);

/// The same for the facets that hold one of `places`.
SplitMesh split_facets(const TriMesh& mesh, double longest_mm, std::span<const FacetPlace> places,
                       std::size_t most, const RunContext& run);

} // namespace leastwall
