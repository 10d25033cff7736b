// How much one unit of an error can change a wall anywhere on a piece, without asking every place.
#pragma once

#include "space/box.h"

#include <functional>

namespace leastwall {

/// Where the walls of a piece are: places, model space, mm, and walls no thicker (in the air no
/// deeper) than that.
struct Places {
  Box at;
  double most_wall_mm = 0;
};

/// No change per unit is larger, either way, at any of these places in any direction; mm per unit.
using ChangeBound = std::function<double(const Places&)>;

/// The same everywhere.
inline ChangeBound at_most(double change) {
  return [change](const Places&) { return change; };
}

} // namespace leastwall
