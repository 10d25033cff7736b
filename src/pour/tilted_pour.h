// Resin in a pocket whose board is off level.
#pragma once

#include "base/run_context.h"
#include "pour/resin.h"
#include "pour/wet_surface.h"

namespace leastwall {

/// Where the pocket has several parts that do not meet under the face, each has a level of its own:
/// volumes are those of all, lengths those of the worst part.
struct TiltedPour {
  double towards_deg = 0; ///< the board falls that way; the worst one where the tilt does not say
  /// Without a dam: poured until it meets the lowest place of the rim, it holds `brim_mm3` and ends
  /// `short_mm` under the highest place. With a dam so high round the rim, `dammed_mm3` reach all
  /// of the rim; what then stands over the face, `short_mm` at the lowest place, is skimmed off.
  double short_mm = 0, brim_mm3 = 0, dammed_mm3 = 0;
  /// What the level pocket holds, poured with a dam, stands so far over the lowest place of the
  /// rim, and so far under the highest one.
  double over_mm = 0, under_mm = 0;
};

/// `wet` without trouble. Exact for its facets: the levels are planes. Without a direction 24 of
/// them, 15 degrees apart, are looked at. Throws Cancelled.
TiltedPour tilted_pour(const WetSurface& wet, const Tilt& tilt, const RunContext& run);

} // namespace leastwall
