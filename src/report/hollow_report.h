// What `hollow` made, as plain data.
#pragma once

#include "space/vec3.h"

#include <cstddef>
#include <optional>
#include <string>

namespace leastwall {

struct HollowReport {
  double volume_mm3 = 0;
  double depth_mm = 0; ///< deepest floor under the pocket face
  double ball_radius_mm = 0;
  double lattice_mm = 0; ///< places of the bit that were tried lie so far apart
  /// The wall that was asked for everywhere; absent: what this job's errors need at each place.
  std::optional<double> even_wall_mm;
  double limit_mm = 0;
  std::optional<double> cap_mm; ///< depth that was not to be exceeded
  /// Of the skin, mm2: within 0.1 mm of what was asked, and thicker where the ball does not reach,
  /// where skin stands above it, and where the depth is capped.
  double as_asked_mm2 = 0, ball_mm2 = 0, undercut_mm2 = 0, capped_mm2 = 0;
  /// Where most more than asked is left, not counting what lies under a cap.
  double most_over_mm = 0;
  Vec3 most_over_at;
  std::size_t triangles = 0;
};

/// Why no pocket was made.
struct NoPocket {
  /// The bit finds no place: at the widest place of the skin, `at`, it is `room_mm` from the middle
  /// to the skin, and bit and wall need `needs_mm`. Else the check of the best pocket is not safe:
  /// `at` is its thinnest place.
  bool no_room = false;
  bool folds = false; ///< the changed surface would lie on itself at `at`
  Vec3 at;
  double room_mm = 0, needs_mm = 0;
  std::string headline; ///< of that check
  std::string finding;  ///< what it asks to look at first; may be empty
  double expected_mm = 0, worst_mm = 0, limit_mm = 0;
  bool at_face = false; ///< `at` lies close under the pocket face
};

} // namespace leastwall
