// Parts and holes as drawings of the board show them.
#pragma once

#include "base/side.h"
#include "space/footprint.h"

#include <cstddef>
#include <cstdint>
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
  double depth_mm = 0; ///< of the tip under the face it is drilled from; 0: not known
  bool flat = false;   ///< no drill point of 118 degrees
  bool through = false;
  Side side = Side::a;      ///< that is up when it is drilled
  std::uint32_t set_up = 0; ///< of that side (CutId)
};

} // namespace leastwall
