// How a stiff board lies on an uneven bed: on its high points, under its own weight.
#pragma once

#include "setup/bed_map.h"
#include "setup/setup.h"

#include <optional>

namespace leastwall {

/// height = offset + slope_x x + slope_y y, bed frame, mm.
struct SeatPlane {
  double slope_x = 0, slope_y = 0, offset_mm = 0;
  double at(Point2 p) const { return offset_mm + slope_x * p.x + slope_y * p.y; }
};

/// The plane of the lower face of a stiff flat board that covers `on_bed` (bed frame): nowhere
/// below the bed, and with its centre of weight (the middle of the rectangle) as low as it can be.
/// It rests on up to three high points around the middle. The board is taken as solid: an opening
/// in the lower face (the pocket, on side B) still rests on what stands under it.
/// Where two high points with the middle exactly between them would let it rock, one of the places
/// it can rock to. Absent when the readings do not surround the middle.
std::optional<SeatPlane> rigid_seat(const BedMap& bed, const Footprint& on_bed);

} // namespace leastwall
