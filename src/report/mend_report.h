// What `mend` changed, as plain data.
#pragma once

#include "space/vec3.h"

#include <cstddef>
#include <string>

namespace leastwall {

struct MendReport {
  std::string pocket; ///< its name
  double ball_radius_mm = 0;
  double limit_mm = 0;
  std::size_t facets = 0;  ///< of the mended pocket
  std::size_t changed = 0; ///< of them; all others stay as they were, bit by bit
  double area_mm2 = 0;     ///< of the old surface that moved
  double volume_mm3 = 0;   ///< that the pocket lost
  double largest_mm = 0;   ///< way of a point of the old surface, and where it was
  Vec3 largest_at;
  /// Farthest that a changed place is from what the ball can take: it leaves so much standing
  /// there.
  double unreached_mm = 0;
  Vec3 unreached_at;
  /// Facets of the given file without area, or there twice, that were left out in reading; and open
  /// edges of the mended pocket.
  std::size_t left_out = 0, open_edges = 0;
  struct Least {
    double design_mm = 0, expected_mm = 0, worst_mm = 0;
    Vec3 at;
  };
  Least before, after; ///< least walls of this pocket
};

} // namespace leastwall
