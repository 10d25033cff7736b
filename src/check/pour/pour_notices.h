// What is to be known before a pour is believed.
#pragma once

#include "base/notice.h"
#include "pour/wet_surface.h"
#include "report/pour_report.h"

#include <optional>
#include <string>
#include <vector>

namespace leastwall {

// Their texts go on behind the pocket's name and a colon.

/// Why a pocket's volume is not told, or what it rests on: pour-nothing-below, pour-tangled,
/// pour-open, pour-overlap (`overlap_mm3` over 0), unproven; pour-edge-below, pour-holes, warnings.
std::vector<Notice> wet_notices(const WetSurface& wet, double overlap_mm3);

/// pour-later-not-told: what later pockets take out of a pocket is only near.
Notice later_not_told();

/// pour-lift-too-deep, a doubt: off level, lifts are deeper than stated on the low side.
std::vector<Notice> lift_notices(const PourRow& row, const std::optional<Tilt>& tilt);

} // namespace leastwall
