// The pocket face that somebody stated, against what the meshes show.
#pragma once

#include "base/notice.h"
#include "wall/surface/machined_surface.h"

#include <optional>
#include <vector>

namespace leastwall {

/// What the meshes show of the pocket face.
struct ShownFace {
  PocketFace found;
  std::optional<double> rim_z_mm; ///< the flat rim of an open pocket sheet (flat_rim.h)

  /// The height that speaks against another one; absent for sheets of no flat rim.
  std::optional<double> z_mm() const {
    return found.opens ? std::optional(found.top_z_mm) : rim_z_mm;
  }
};

/// How far a stated face may lie from the one that is shown and still mean the same, mm.
inline constexpr double kSameFace_mm = 0.01;

/// The face to measure with when z = `top_z_mm` was stated.
///
/// As good as the one shown: that one, to the last digit. Above a flat: both lids would count as
/// wall and touch one another, so the flat stays the face and a notice says so (face-disagrees,
/// unproven). Above the rim of an open pocket: taken, with a doubt (face-above-rim); the land then
/// ends at the rim. Below what is shown: what rises above is left out, as for bodies that are drawn
/// taller than the board; what that leaves unmeasured is the caller's question
/// (PieceFacts::above_face).
PocketFace stated_face(double top_z_mm, const ShownFace& shown, std::vector<Notice>& notices);

} // namespace leastwall
