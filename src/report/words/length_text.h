// Lengths as every report writes them: millimetres, or for a job in inches inches first and
// millimetres in brackets behind. The one place that knows how.
#pragma once

#include "setup/setup.h"
#include "space/vec3.h"

#include <string>
#include <string_view>

namespace leastwall {

/// Inches a foot of one mm a metre.
inline constexpr double kInchPerFoot = 12.0 / 1000;

struct LengthText {
  bool inch = false;

  std::string_view unit() const { return inch ? "in" : "mm"; }

  /// "0.350 mm"; "0.0138 in (0.350 mm)". `decimals` are those of the millimetres; inches have
  /// three for one or none, four for two or three, then one more.
  std::string length(double mm, int decimals = 3) const;
  /// The same with a plus sign where it is above zero.
  std::string change(double mm, int decimals = 3) const;
  /// A wall: one under the limit is never rounded up to it, in either unit.
  std::string wall(double mm, double limit_mm) const;
  /// "12.3 mm2"; "0.0191 in2 (12.3 mm2)"; "under 0.1 mm2" for a small area that is not nothing.
  std::string area(double mm2) const;
  /// "x 12.3 y -4.0 z -18.2"; "x 0.484 y -0.157 z -0.717 in (x 12.3 y -4.0 z -18.2 mm)".
  std::string place(Vec3 at) const;
  std::string place(Point2 at, int decimals = 1) const;

  /// The number alone, in `unit()`, for tables.
  std::string number(double mm, int decimals = 3) const;
  std::string wall_number(double mm, double limit_mm) const;

  /// A sentence that was written in millimetres further down (notices, advice, assumptions): every
  /// length, area and place in it gets its inches in front. What has them already stays. Slopes in
  /// mm per m (mm/m) become inches per foot. Without `inch` the sentence as it is.
  std::string sentence(std::string_view text) const;
};

} // namespace leastwall
