// A wall cut through, upright and along its own direction, to be drawn large enough to see it.
#pragma once

#include "spatial/mesh_section.h"
#include "wall/measure_wall.h"

namespace leastwall {

/// Pocket and skin as drawn, in a window about a place of the skin.
struct WallSection {
  SectionPlane plane;                   ///< `through`: the place on the skin
  SectionPoint window_low, window_high; ///< what is shown, mm
  SectionPieces skin, pocket;           ///< cut off at the window; without order
  SectionPoint on_skin, on_pocket;      ///< the two ends of the wall there
  SectionPoint out;                     ///< the wall's direction there, from pocket to skin
  double wall_mm = 0;                   ///< as drawn

  SectionPoint middle() const { ///< of the window
    return {(window_low.along_mm + window_high.along_mm) / 2,
            (window_low.z_mm + window_high.z_mm) / 2};
  }
};

/// The upright plane through a place along the wall's direction `n` there; along x where the wall
/// stands upright (a floor), for then any plane shows it.
SectionPlane plane_along(Vec3 through, Vec3 n);

/// Through the sample `at` of the wall's map. The window is `width_mm` wide and `height_mm` high;
/// the wall's middle lies in its middle.
WallSection wall_section(const WallMeasurement& wall, const WallSample& at, double width_mm,
                         double height_mm);

/// A window wide enough to see what is beside a wall, narrow enough to see the wall, mm.
double section_height_mm(double limit_mm, double wall_mm);

} // namespace leastwall
