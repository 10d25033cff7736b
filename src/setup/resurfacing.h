// What is known about resurfacing the spoilboard: how flat it comes out, and how much there is.
#pragma once

#include <optional>
#include <string>

namespace leastwall {

/// Flatness after a surfacing cut when no one stated it, mm (common practice).
inline constexpr double kUsualResidual = 0.05;

/// Lengths mm. Depths are measured down from the surface as it is now.
struct Resurfacing {
  std::optional<double> residual_mm; ///< highest minus lowest place afterwards
  /// Or the lean of the spindle: a dial's highest minus lowest reading over its circle.
  std::optional<double> tram_reading_mm, tram_swing_mm;
  std::optional<double> cutter_mm, stepover_mm; ///< surfacing cutter's diameter, way per pass
  double depth_per_pass_mm = 0.5;
  std::optional<double> spoilboard_mm, spoilboard_least_mm; ///< thickness now, and still enough
  std::optional<double> screw_depth_mm;                     ///< shallowest screw head
  std::optional<double> dowel_hole_mm, dowel_hole_least_mm; ///< depth now, and still enough
};

struct Residual {
  double mm = 0;
  std::string from; ///< in words
};

/// As stated; else the ridges that lean, cutter and stepover leave (the larger of both directions);
/// else kUsualResidual. Throws InputError for a lean or a cutter that cannot be.
Residual residual_flatness(const Resurfacing& resurfacing);

} // namespace leastwall
