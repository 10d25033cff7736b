// The step between the skins of two halves that are glued on their pocket faces.
//
// Glue-up dowels hold the halves by holes that were drilled from the pocket face. Against these
// holes the outline of a half, cut after the flip, is displaced: sideways by how the board lies
// after it (D(x) of causes/flip), and, where the skin does not stand square on the pocket face, by
// what its height over that face is off. A wall from the pocket face to the skin takes
// n . (d_outer - d_inner) (causes/model/cuts.h), with n the normal of the skin, so the outline
// moves by  s(x) = n . (d_outer - d_inner) / |n_xy|  across itself. Of the two halves, x and x'
// being the places that come to lie on one another (mirror images),
//     step(x) = s(x) - s'(x') + play of the glue-up dowels.
// What is one draw for both (flip line, dowel play of the flip, bits, touch-offs) acts with the
// difference of its two sensitivities; mirror images that lie turned on the board do not cancel.
// Halves from two boards have most errors each on its own (of_all_boards() in cause_id.h).
// Where the machine's axes are out of square the holes and the outline are off by different amounts
// already on side A: out_of_square_at() in the source.
// Each hole of a glue-up dowel is wider than the dowel by its clearance C: the half is off there by
// a vector in a disc of radius C/2, for each half and dowel its own; a shift and a turn of one half
// against the other follow as in causes/flip/dowel_play.h.
#pragma once

#include "base/run_context.h"
#include "causes/model/cause.h"
#include "parts/on_board.h"
#include "parts/rim.h"
#include "parts/seam_row.h"
#include "setup/setup.h"

#include <array>
#include <cstdint>
#include <span>
#include <vector>

namespace leastwall {

/// Hole of a glue-up dowel, in the frame of the half.
struct GlueDowel {
  Point2 at;
  double clearance_mm = 0; ///< diametral
};

struct SeamInput {
  /// Inner cut: the holes of the dowels; outer cut: the skin. Its board's footprint is set.
  const Setup& setup;
  OnBoard one, other;
  std::array<GlueDowel, 2> dowels; ///< at two places
  std::span<const RimPoint> rim;   ///< of a half in its own frame; not empty
  std::uint32_t other_board = 0;   ///< CutId::board of the other half; `setup` is of the one
  std::uint64_t trials = 20000, seed = 1;
};

/// Causes whose sensitivities, at a sample in the frame of the half with the skin's normal, give
/// the step. Throws InputError as causes_of does.
std::vector<Cause> seam_causes(const SeamInput& input);

/// All of a SeamRow but the names. The step of a trial is the largest along the rim, from the same
/// draws as those of the walls. Throws InputError as causes_of does; Cancelled.
SeamRow seam_step(const SeamInput& input, const RunContext& run);

} // namespace leastwall
