// Whether readings lie where the board lies.
#pragma once

#include "base/notice.h"
#include "bed/bed_map.h"
#include "space/footprint.h"

#include <optional>
#include <string_view>

namespace leastwall {

/// From this part on the readings tell what lies under a board.
inline constexpr double kWellCovered = 0.5;

/// The part of the rectangle (bed frame) that lies within the outline of the readings, 0 to 1.
/// Readings along one line cover nothing: 0 where the line crosses the rectangle. Absent where no
/// part of the outline, and no line of readings, comes into the rectangle.
std::optional<double> covered_part(const BedMap& readings, const Footprint& rectangle);

/// The notice "small-area" where three readings or more lie within 60 mm along x and y, which no
/// bed does but one whose inches were taken for mm; `how` says how to state the unit.
std::optional<Notice> doubt_small_area(const BedMap& readings, std::string_view how);

} // namespace leastwall
