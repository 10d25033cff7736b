// Small pieces that the causes share.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "causes/model/cuts.h"
#include "setup/setup.h"

#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

/// What a vertical error of +1 (floor or skin too high above the other: thicker) does to the wall:
/// the part of it along n, -n_z. n runs from pocket to skin, so this is 1 at the bottom of a form.
/// (Skin moved by D against the pocket: wall changes by n.D; D = (0, 0, -1) gives -n_z.)
inline double vertical(const WallSample& p) {
  return -p.n.z;
}

/// `height` times that: of a cut that comes out too shallow (CutView::height).
Sensitivity too_shallow(double height);

/// A cause that acts straight along z with the same error everywhere on one of the cuts; `key`:
/// under the cut's side, in the job (Cause::setting).
Cause vertical_cause(CauseKind kind, const CutView& cut, const Uncertain& error,
                     std::string_view key);

/// The job's key of one side: "side_a.touch_off"; "part.pocket.side_a.touch_off" where the pocket
/// has a table of its own for that side.
std::string side_key(const Setup& setup, Side side, std::string_view key);

/// The same for a cut.
std::string cut_key(const CutView& cut, std::string_view key);

inline Distribution distribution_of(Knowledge knowledge) {
  return knowledge == Knowledge::standard ? Distribution::normal : Distribution::rectangle;
}

/// How far the worst case goes, mm.
inline double limit_of(const Uncertain& error) {
  return distribution_of(error.knowledge).half_width(error.size_mm);
}

} // namespace leastwall
