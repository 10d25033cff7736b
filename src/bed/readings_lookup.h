// Readings of a bed or of a board's thickness, with a cautious answer where nothing was read.
#pragma once

#include "bed/bed_map.h"
#include "space/footprint.h"

namespace leastwall {

/// The surface through the readings; beyond them the highest reading.
inline double height_or_highest(const BedMap& map, Point2 p) {
  return map.height_mm(p.x, p.y).value_or(map.highest().z);
}

/// The surface through the readings; beyond them the lowest reading.
inline double height_or_lowest(const BedMap& map, Point2 p) {
  return map.height_mm(p.x, p.y).value_or(map.lowest().z);
}

} // namespace leastwall
