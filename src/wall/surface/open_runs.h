// The open edges of a machined surface that are no outline: holes, told from seams and rims.
//
// An open edge is harmless where
//  * another open edge lies along it within 0.05 mm and its facet goes on to the other side: a
//  seam.
//    A gap of width w in a surface at distance d hides at most w^2 / (8 d) of the distance to it
//    (plane over the gap): 0.0004 mm at d = 0.8;
//  * it lies on the pocket face and its facet goes down from it: the rim of what is cut there;
//  * it lies in an upright plane that both surfaces end at: the parting plane of a half;
//  * its run is the top of an island of the pocket: all facets fall from it;
//  * for a sheet without flat rim, its run is the outline of its piece: seen from above it reaches
//  as
//    far as the piece does; of several such runs (a tube) the highest.
// Of an outline, stretches that face each other across no more than 5 mm are a slit. What is left
// are holes: no one knows how the surface goes on in them.
#pragma once

#include "mesh/mesh.h"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace leastwall {

/// Gaps no wider than this are seams, mm.
inline constexpr double kSeam_mm = 0.05;
/// Gaps between edges that face each other along at least four times their width are slits up to
/// this width, mm; wider ones may be the outline of a piece with lobes.
inline constexpr double kSlit_mm = 5;

struct OpenRun {
  Box box;                 ///< mm, model space
  std::vector<Vec3> edges; ///< corners along it, in no order, at most some hundred
  double across_mm = 0;    ///< longest side of its box, or the width of a slit
};

struct OpenRuns {
  std::vector<OpenRun> holes; ///< widest first
  /// False: too many open edges, or too many in one place, to tell seams from holes.
  bool looked_at = true;
};

struct OpenRunsAsked {
  double top_z_mm = 0; ///< the pocket face; for a sheet with a flat rim, its rim
  /// Everything that ends, ends at top_z: a body but for its lid, or a sheet with a flat rim.
  bool ends_at_top = false;
  bool pocket = false;            ///< the surface is the pocket's
  const TriMesh* other = nullptr; ///< the other surface, for parting planes
};

/// More are not looked at.
inline constexpr std::size_t kMaxOpenEdges = 400'000;
/// How often one of them is held against another at most, for seams and runs; four times as often
/// for slits. Some ten and some hundred each on plain meshes.
inline constexpr std::uint64_t kMaxEdgeLooks = 12'000'000;

/// `surface` is welded, with facets oriented piece by piece. Linear in the open edges and in what
/// lies near each of them (kSeam_mm; kSlit_mm, where they are outlines).
OpenRuns open_runs(const TriMesh& surface, const OpenRunsAsked& asked);

} // namespace leastwall
