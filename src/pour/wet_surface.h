// The surface of a pocket that resin wets: what lies under the pocket face, without lids.
#pragma once

#include "mesh/mesh.h"

#include <cstddef>
#include <cstdint>

namespace leastwall {

struct WetSurface {
  TriMesh mesh; ///< model space, mm; facets look out of the resin; holes in it are closed by cones
  double face_z_mm = 0;    ///< of the pocket face
  double deepest_z_mm = 0; ///< lowest point
  double area_mm2 = 0;     ///< without the cones

  /// Why no one can say how much it holds.
  enum class Trouble : std::uint8_t {
    none,
    nothing_below, ///< no facet lies under the pocket face
    tangled, ///< edges of three facets or more, or facets that do not agree which way they look
    open     ///< holes, or an edge under the pocket face, that leave too much unknown
  } trouble = Trouble::none;
  /// The pocket may hold so much less or more than volume_below() says, because of what is open.
  double less_mm3 = 0, more_mm3 = 0;
  std::size_t holes = 0;     ///< runs of open edges that were closed
  std::size_t bad_edges = 0; ///< of three facets or more, or between facets that disagree
  double edge_below_mm = 0;  ///< how far its open edge lies under the pocket face at most
  Vec3 at;                   ///< the trouble, or the largest hole
};

/// `mesh` may be a body, taller than the board or not, or an open sheet, with its facets turned
/// either way. Where an edge that opens upwards lies under the pocket face, resin is taken to stand
/// straight above it: that is as the bit cuts, and `less_mm3` is what stands over a lid across the
/// edge. A hole that does not open upwards is closed by a cone; what is missing there may bulge by
/// twice its area over half its edge (of a round hole: its radius), either way. More than a
/// twentieth of the volume left unknown is `open`.
WetSurface wet_surface(TriMesh mesh, double face_z_mm);

} // namespace leastwall
