// Findings about pocket and skin that do not belong together, from what was measured. Each leaves
// the walls unproven: the numbers are those of the meshes, but the meshes are not the piece.
//
// No finding rests on prose or on one number alone. What good pieces do is left free: a pocket in
// the back of a relief may lie wholly above the front (a wall like that of the relief stands
// between them), a floor may be thick, a pocket may be small, a front may be hollow.
#pragma once

#include "base/notice.h"
#include "wall/surface/piece_facts.h"

#include <vector>

namespace leastwall {

/// What the two surfaces are to one another.
enum class PairKind {
  own,   ///< a pocket and the skin drawn for it: they fill one another and come near the limit
  fill,  ///< a pocket in the resin of another: it comes near the limit, its size says nothing
  hole,  ///< a drilled hole and the skin: neither size nor distance says anything
  beside ///< pockets or holes beside one another: neither lies in the other
};

struct FitOptions {
  double limit_mm = 0;
  double least_wall_mm = 0; ///< as measured
  /// The most that all stated errors together can thin a wall.
  double max_thinning_mm = 0;
  PairKind pair = PairKind::own;
};

/// Codes, all Severity::unproven but the last:
///  meshes-swapped   more than nine tenths of the skin lie in what the pocket cuts away
///  heights-apart    the pocket lies wholly above the skin, further than either explains
///  upside-down      one bulges up where the other hangs down
///  pocket-scale     the pocket would fit if it were 2 or 10 times larger or smaller
///  size-beyond      larger than what a small router holds
///  pocket-outside   more than half of the plan of both lies beyond the other (a doubt below that)
///  ends-below-face  an open surface ends under the pocket face where a wall may be thin
///  face-below-flat  a stated face leaves a thinner wall unmeasured (a doubt for any other)
///  far-over-limit   no wall is anywhere near the limit
///  hole             an inner open edge where a wall may be thin
///  open-everywhere  too many open edges to tell seams from holes
///  pocket-small     the pocket covers less than 2 % of the skin (doubt)
std::vector<Notice> fit_findings(const PieceFacts& facts, const FitOptions& options);

/// Whether a hole can hide a wall under the limit: a patch over an opening `across_mm` wide that
/// dips more than it is wide is a cut of its own, so up to that depth nothing is known.
bool hole_matters(const SurfaceHole& hole, const FitOptions& options);

/// Longest side that a small router holds, and the deepest that its Z axis reaches, mm (common
/// practice: beds of 0.3 to 1.5 m, 50 to 200 mm under the gantry).
inline constexpr double kLongestPiece_mm = 1500, kDeepestPiece_mm = 250;

} // namespace leastwall
