// The two cuts of a wall, and what each does to it.
//
// Every cut is displaced by its errors: straight along z by d_z and sideways by d_xy, in the frame
// of the board's skin face. With n from the inner to the outer cut the wall between them changes by
//     n . (d_outer - d_inner),
// so with v = -n_z (cause_terms.h) by  v (d_z,inner - d_z,outer) + n_xy . (...).
// A cut that comes out `delta` too shallow (touch-off, tip, bed: k tau(touch) + e + c - [h - r]) is
// displaced by
//     pocket face up (side A):  d_z = delta
//     skin face up (side B):    d_z = tau - delta
// where tau is how much thicker the board is than the program assumes. So the wall changes by
// v times  height * delta,  with `height` +1 for an inner cut of side A and an outer one of side B,
// and -1 for the others; and by  -height tau(x)  for each cut of side B. With one pocket and one
// skin this is  delta_A + delta_B - tau(x).
#pragma once

#include "causes/model/cause_id.h"
#include "setup/setup.h"

#include <array>
#include <cstdint>

namespace leastwall {

struct CutView {
  const SideSetup& how;
  const CutId& id;
  bool outer = false;
  double height = 1; ///< what 1 mm too shallow does to the wall, times v
  /// What the wall gains where the bit takes 1 mm more along the surface's normal: -1, but +1 where
  /// the wall is what was poured into this cut.
  double removal = -1;
  double sideways = -1; ///< of n . d_xy: +1 for the outer cut
};

/// The inner and the outer cut. They refer to `setup`.
std::array<CutView, 2> cuts_of(const Setup& setup);

/// Whether both cuts are made with the same face up, so that the bed under the board is the same
/// for both, and the board lies the same way.
inline bool same_side(const Setup& setup) {
  return setup.inner_cut.side == setup.outer_cut.side;
}

/// Whether both cuts hang from the same datum, touched at the same point.
bool same_datum(const Setup& setup);

/// The identity of a cause of this cut's set-up; of its bit's touch on the datum (touch-off, setter,
/// plate, tip height, roughing) that of the touch.
CauseId id_of(CauseKind kind, const CutView& cut, std::uint32_t instance = 0);

} // namespace leastwall
