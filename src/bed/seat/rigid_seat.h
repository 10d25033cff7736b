// The plane on which a stiff body lies on three points under its centre of weight.
#pragma once

#include "space/footprint.h"
#include "space/vec3.h"

#include <optional>
#include <span>

namespace leastwall {

/// height = offset + slope_x x + slope_y y, bed frame, mm.
struct SeatPlane {
  double slope_x = 0, slope_y = 0, offset_mm = 0;
  double at(Point2 p) const { return offset_mm + slope_x * p.x + slope_y * p.y; }
};

/// The plane through which none of the `places` stands and which is lowest over `over`: a body
/// with its centre of weight there rests on it. Where several are as low, one of them. Absent when
/// the places do not surround `over`.
std::optional<SeatPlane> lowest_plane(std::span<const Vec3> places, Point2 over);

} // namespace leastwall
