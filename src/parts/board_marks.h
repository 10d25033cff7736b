// Parts and holes as drawings of the board show them.
#pragma once

#include "space/footprint.h"

#include <cstddef>
#include <string>

namespace leastwall {

/// A part as it lies on the board, model x, y.
struct PartMark {
  std::string name;
  Footprint box;
  std::size_t samples = 0; ///< of its skin's map, where the maps of all parts stand in one
};

/// A drilled hole on the board, model x, y.
struct HoleMark {
  std::string name;
  Point2 at;
  double diameter_mm = 0;
};

} // namespace leastwall
