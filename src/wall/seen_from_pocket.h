// Thin places that only the pocket sees: samples of the pocket that the skin's samples do not stand
// for.
//
// A sample of the skin knows the pocket face nearest to it. At a narrow ridge or slot another face
// is a little farther away and closes on it under an error that the nearest one does not feel. A
// point q of that face has its own nearest skin point s, and its own direction; the budget takes
// the pair as a sample at s, with the pocket at s - n wall, like any other.
//
// Which pocket points matter. Let M be the cells of the skin that may have a wall under the
// ceiling. A cell left out is farther than the ceiling from every pocket point: that is what its
// floor (distance_floor) says. So a pocket point q is nearer than the ceiling to the skin exactly
// where it is nearer than the ceiling to M, and its nearest point is then the same. Only facets
// of the pocket within the ceiling of M have such points; a coarse grid finds them, and the tree
// that they ask is built from M alone.
//
// Which of them are new. Let s lie in a cell with corners i, s = sum l_i c_i, and let D be how far
// the skin moves against the pocket. The least of the corners' walls after that is at most their
// mean,  min (w_i + n_i.D) <= sum l_i w_i + sum l_i n_i.D , so q's pair is never more than
// (sum l_i w_i - w_q) + |sum l_i n_i - n_q| |D|  thinner than the thinnest corner. Where that is
// under 0.0005 mm + 0.01 |D| for every D, the skin's own samples stand for q.
#pragma once

#include "base/run_context.h"
#include "wall/sampling/refine.h"

namespace leastwall {

/// What looking took and left.
struct SeenFromPocket {
  double unsplit_mm = 0; ///< as RefinedMap::unsplit_mm
  std::uint64_t max_cells = 0, steps = 0;
};

/// Adds to `skin`, as local minima at the end of its samples, what is seen from `pocket` (its
/// machined facets) and not from the skin. `side`: sides of the skin's body. `skin` must have been
/// measured with the fine spacing and the ceiling of `spacing`; its bounds are those of all looks
/// together.
SeenFromPocket add_seen_from_pocket(WallMap& skin, const TriMesh& pocket,
                                    const SideClassifier& side, const RefineOptions& spacing,
                                    const RunContext& run);

} // namespace leastwall
