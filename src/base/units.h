// Lengths are millimetres inside; inches exist only where files are read and text is written.
#pragma once

namespace leastwall {

inline constexpr double kMillimetresPerInch = 25.4; // exact: international inch, 1959

enum class LengthUnit { mm, inch };

/// Millimetres in one `unit`.
constexpr double millimetres_per(LengthUnit unit) {
  return unit == LengthUnit::inch ? kMillimetresPerInch : 1.0;
}

} // namespace leastwall
