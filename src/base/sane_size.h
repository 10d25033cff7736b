// How large numbers about a workpiece may be before they are a slip of the pen or of the unit.
#pragma once

namespace leastwall {

/// Lengths of a job and of options, places of readings: no bed is 100 m long, mm.
inline constexpr double kLargestLength_mm = 1e5;

/// Coordinates of a mesh, as read and as placed: farther out, sums and squares lose their digits,
/// mm.
inline constexpr double kFarthestCoordinate_mm = 1e8;

} // namespace leastwall
