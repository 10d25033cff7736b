// The picture of a wall grid: colour for the wall, hatching where it is thin.
#pragma once

#include "report/draw/picture.h"
#include "report/draw/rasterise_wall.h"

namespace leastwall {

/// What one pixel of the map says.
enum class WallZone {
  none,    ///< nothing measured: white with grey dots
  holds,   ///< wall colour alone
  at_risk, ///< worst case under the limit: wide-spaced hatching falling to the right
  thin,    ///< expected wall under the limit: close hatching rising to the right
  cut      ///< expected wall <= 0: black with a white cross-hatch
};

/// `worst_mm` NaN: not known, only the expected wall counts.
WallZone wall_zone(double expected_mm, double worst_mm, double limit_mm);

/// Colour of the pixel (x, y) of `zone`; `unit` is the picture's scale (1 at 1600 px wide). Each
/// hatch line is white between two black ones, so that it shows on every colour and in grey.
Rgb zone_pixel(WallZone zone, double expected_mm, int x, int y, double unit);

/// The whole grid. Cut-through places are drawn at least 7 `unit` pixels wide, and what was
/// measured gets a dark outline. `worst` may be empty (no values), otherwise it has the same frame.
PixelImage wall_pixels(const WallGrid& expected, const WallGrid& worst, double limit_mm,
                       double unit);

} // namespace leastwall
