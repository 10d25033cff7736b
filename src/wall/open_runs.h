// The open edges of a machined surface that are no outline: holes, told from seams and rims.
//
// Open edges are joined to runs. A run is harmless where
//  * another open edge lies along it within 0.05 mm and looks the other way: a seam. A gap of width
//    w in a surface at distance d hides at most w^2 / (8 d) of the distance to it (plane over the
//    gap): 0.0004 mm at d = 0.8;
//  * it lies on the pocket face and its facets go down from it: the rim of what is cut there;
//  * it is the outline of its piece: seen from above it reaches as far as the piece does, and no
//  rim
//    does; of several such runs (a tube) the highest.
// What is left are holes: nobody knows how the surface goes on in them.
#pragma once

#include "geometry/mesh.h"

#include <cstddef>
#include <vector>

namespace leastwall {

/// Gaps no wider than this are seams, mm.
inline constexpr double kSeam_mm = 0.05;

struct OpenRun {
  Box box;                 ///< mm, model space
  std::vector<Vec3> edges; ///< corners along it, in no order, at most some hundred
  double across_mm() const {
    const Vec3 s = box.size();
    return std::max({s.x, s.y, s.z});
  }
};

struct OpenRuns {
  std::vector<OpenRun> holes; ///< widest first
  bool looked_at = true;      ///< false: too many open edges to tell seams from holes
};

/// `surface` is welded, with facets oriented piece by piece; `top_z_mm` is the pocket face. At most
/// kMostOpenEdges are looked at; linear in them.
inline constexpr std::size_t kMostOpenEdges = 400'000;
OpenRuns open_runs(const TriMesh& surface, double top_z_mm);

} // namespace leastwall
