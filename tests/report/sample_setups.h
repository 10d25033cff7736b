// A made-up set-up that states everything the setup sheet can show.
#pragma once

#include "setup/setup.h"

namespace leastwall::sample {

/// 140 x 190 mm board round the part of `full_report`; flip line at x = 5.
inline Setup full_setup() {
  Setup s;
  s.board.footprint = Footprint{{-70, -95}, {70, 95}};
  s.board.assumed_thickness_mm = 45;
  s.board.measured_thickness_mm = 45.12;
  s.inner.touch_point = Point2{-60, -85};
  s.inner.roughing = Roughing{0.5, {}};
  s.inner.bit.ball_radius_mm = 1.5;
  s.outer.zero = ZeroFrom::bed;
  s.outer.touch_point = Point2{-60, 105}; // on the bare bed, beyond the board
  s.outer.sanding_mm = 0.05;
  s.outer.plate_error_mm = -0.6;
  s.outer.bit.zero = BitZero::tool_setter;
  s.flip.at_mm = 5;
  s.flip.dowels = Dowels{0.02, 0.02, 150, {}, true};
  return s;
}

} // namespace leastwall::sample
