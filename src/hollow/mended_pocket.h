// A pocket changed only where its wall is too thin.
//
// The changed pocket is what an upright ball bit can take without coming nearer to the skin than
// asked and without leaving the given pocket. Corners of the given surface that lie outside of it
// because of the wall go to its nearest point; facets there are made finer first. Where the bit
// does not come to the given surface, as in an edge that is drawn sharp, that is pushed away from
// the skin by what it lacks and no more; how far the bit stays off such places is told.
#pragma once

#include "base/run_context.h"
#include "hollow/bit_union.h"
#include "hollow/split_facets.h"
#include "mesh/mesh.h"
#include "spatial/closest_surface.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

namespace leastwall {

/// The pocket with edges no longer than `facet_mm` wherever it comes within `reach_mm` of `thin`.
/// Throws RunError where it would take more than a few million facets; Cancelled.
SplitMesh fine_near(const TriMesh& pocket, const ClosestSurface& thin, double reach_mm,
                    double facet_mm, const RunContext& run);

struct MendInput {
  const TriMesh& pocket;   ///< welded, no edge of three facets
  const SplitMesh& fine;   ///< fine_near() of it
  const BitUnion& now;     ///< what the bit can take of the pocket as given
  const BitUnion& allowed; ///< and what of it leaves the wall
  struct Lack {
    double mm = 0; ///< of the wall that is asked for there; below 0: there is more
    Vec3 away;     ///< unit, from the skin into the pocket
  };
  std::function<Lack(Vec3)> lack; ///< at a point of the pocket, no higher than the face
  double face_z_mm = 0;
  const ClosestSurface& thin; ///< nothing changes farther than `reach_mm` from it
  double reach_mm = 0;
  double facet_mm = 1; ///< edges where the surface changes are no longer
};

struct MendedPocket {
  TriMesh mesh;                 ///< the old corners first; facets that stay stand where they stood
  std::vector<double> moved_mm; ///< by corner: its way
  std::vector<std::uint32_t> changed; ///< facets with a corner that moved, or halved ones
  double area_mm2 = 0;                ///< of the facets with a corner that moved, as they were
  double volume_mm3 = 0;              ///< by which the pocket becomes smaller
  double largest_mm = 0;              ///< way of a corner
  Vec3 largest_at;                    ///< where it was
  double unreached_mm = 0; ///< farthest that a changed corner is from what the bit can take
  Vec3 unreached_at;
  /// Pairs of neighbours that lie on one another and did not before.
  std::size_t folded = 0;
  Vec3 folded_at;
};

/// The same on any number of threads. Moved and new corners are what single precision holds.
/// Throws RunError where the pocket would take more than a few million facets; Cancelled.
MendedPocket mended_pocket(const MendInput& input, const RunContext& run);

} // namespace leastwall
