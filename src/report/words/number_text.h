// Numbers for people: millimetres with at most three decimals, inches with four, never "-0".
// Independent of the locale. JSON does its own rounding (see json_report.h).
#pragma once

#include "space/footprint.h"
#include "space/vec3.h"

#include <string>

namespace leastwall {

/// `value` with `decimals` places; a value that rounds to zero has no sign. "-" when not finite.
std::string fixed_text(double value, int decimals);

/// A wall in mm, three decimals. A wall under the limit is never rounded up to it: 0.79996
/// against 0.8 is written 0.799.
std::string wall_text(double wall_mm, double limit_mm);

/// The same in inches, four decimals.
std::string wall_text_inch(double wall_mm, double limit_mm);

/// A length in inches, four decimals, from mm.
std::string inch_text(double value_mm);

/// "x 12.3 y -4.0 z -18.2", mm, one decimal.
std::string place_text(Vec3 at);

/// "x 0.484 y -0.157 z -0.717 in", from mm, three decimals.
std::string place_text_inch(Vec3 at);

/// "x 46.9 y -63.0", or "x 1.846 y -2.480 in".
std::string plan_text(Point2 at, bool inch);

/// An area in mm2 with one decimal, or "under 0.1" for a small area that is not nothing.
std::string area_text(double area_mm2);

/// A fraction of trials as odds: "1 in 12"; "63 in 100" from a half upwards; "none" for zero.
std::string odds_text(double fraction);

} // namespace leastwall
