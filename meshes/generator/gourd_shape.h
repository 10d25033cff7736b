// Left half of a bottle gourd, lying along x: a foot bulb (x < 0), a waist, a neck bulb and a stem.
// Model frame, mm: x right, y away, z up; parting plane and pocket face z = 0, the body below.
//
// The pocket is the smooth inner form, the skin is that form moved out along its normal by a wall
// `t`. A point moved by t along the normal of a smooth form is exactly t from it while t is less
// than the radius of curvature (closest-point property of parallel surfaces, do Carmo, Differential
// Geometry of Curves and Surfaces, section 3-5), so the design wall is known everywhere.
#pragma once

#include "space/vec3.h"

#include <vector>

namespace leastwall::demo {

class GourdShape {
 public:
  GourdShape();

  /// One cross-section, made from its place along the outline: 0 foot end, 1 neck end.
  struct Section {
    double x = 0;          ///< mm
    double radius = 0;     ///< half width of the pocket at the parting plane, mm; 0 at the ends
    double radius_dx = 0;  ///< radius times its derivative along x, mm; finite at the ends
    double from_foot = 0;  ///< along the outline from the foot end, mm
    double from_neck = 0;  ///< along the outline from the neck end, mm
    double skin_reach = 0; ///< `across` at which the skin meets the parting plane, > 1
  };
  Section section(double along) const;

  /// Point of the pocket; `across` runs from -1 (near rim, y < 0) to 1 (far rim).
  Vec3 pocket(const Section& s, double across) const;
  /// Point of the skin; `across` runs from -skin_reach to skin_reach, where z is 0.
  Vec3 skin(const Section& s, double across) const;
  /// Wall along the normal, mm.
  double wall(const Section& s, double across) const;

 private:
  std::vector<double> outline_; ///< length of the outline at equal steps of the angle parameter
};

} // namespace leastwall::demo
