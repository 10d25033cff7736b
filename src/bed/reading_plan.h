// Where readings lie in plan: middle, extent, and whether they span an area, a line or a place.
#pragma once

#include "space/vec3.h"

#include <span>

namespace leastwall {

struct ReadingPlan {
  double middle_x = 0, middle_y = 0; ///< of the box around the places, mm
  double size_x = 0, size_y = 0;     ///< of that box, mm
  double extent = 0;                 ///< the larger of the two
  int axes = 0;          ///< 2: an area; 1: within 1e-6 of the extent of a line; 0: one place
  double ex = 1, ey = 0; ///< unit vector along the line; the x axis for an area
};

/// The plan of at least one point (x, y); z is not looked at.
ReadingPlan reading_plan(std::span<const Vec3> points);

} // namespace leastwall
