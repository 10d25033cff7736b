// Parts and holes as drawings of the board show them.
#pragma once

#include "space/footprint.h"

#include <string>

namespace leastwall {

/// A part as it lies on the board, model x, y.
struct PartMark {
  std::string name;
  Footprint box;
};

/// A drilled hole on the board, model x, y.
struct HoleMark {
  std::string name;
  Point2 at;
  double diameter_mm = 0;
};

} // namespace leastwall
