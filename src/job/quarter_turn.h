// Turns about z, exact for quarter turns.
#pragma once

namespace leastwall {

struct Turn {
  double cosine = 1, sine = 0;
};

/// Counter-clockwise seen from above, degrees.
Turn turn_by(double deg);

} // namespace leastwall
