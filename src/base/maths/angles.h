// Sines, cosines and angles, the same in every build (see hypot.h). Radians; within 2 units in the
// last place; not a number where the argument is none.
#pragma once

namespace leastwall::maths {

/// Up to |x| = 1e6; beyond, the turns are taken off with the rounded 2 pi, and the last digits mean
/// little.
double sin(double x);
double cos(double x);
/// sin / cos; within 3 units.
double tan(double x);
/// In [-pi/2, pi/2].
double atan(double x);
/// Direction of (x, y) in [-pi, pi]; zeros and their signs as IEEE 754 (9.2.1) has them.
double atan2(double y, double x);

} // namespace leastwall::maths
