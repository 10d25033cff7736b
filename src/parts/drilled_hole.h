// What a drill takes out of a board, as a closed body.
#pragma once

#include "mesh/mesh.h"
#include "space/footprint.h"

namespace leastwall {

struct DrilledHole {
  Point2 at;              ///< its axis, mm
  double diameter_mm = 0; ///< over 0
  double face_z_mm = 0;   ///< of the face it is drilled from
  double depth_mm = 0;    ///< of the tip under that face, over 0
  bool from_above = true; ///< the drill comes down; else it comes up
  bool flat = false;      ///< no point
};

/// The point of a twist drill, degrees across (common practice for wood and metal; DIN 1897 and
/// DIN 338 type N, from memory).
inline constexpr double kDrillPoint_deg = 118;

/// Facets look outwards. The polygon goes round the circle, so that the body is nowhere smaller
/// than the hole and nowhere larger by more than 0.0004 mm (wide holes: a millionth of the radius).
TriMesh drilled_hole(const DrilledHole& hole);

} // namespace leastwall
