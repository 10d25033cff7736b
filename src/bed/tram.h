// What a spindle out of tram leaves behind when it surfaces the bed.
//
// A flat-bottomed cutter of radius R whose axis leans by theta. Leaning in the plane of the feed
// it cuts an elliptic trough: dish sin(theta) (R - sqrt(R^2 - W^2/4)) over a width W. Leaning
// across the feed it cuts a saw-tooth of stepover times tan(theta). Plane geometry; derived.
#pragma once

namespace leastwall {

/// Lean of the spindle in degrees from a dial swung on a circle of `swing_diameter_mm`, of which
/// `total_reading_mm` is highest minus lowest. Throws InputError unless the circle is above 0 and
/// the reading is from 0 to the circle.
double tram_deg(double total_reading_mm, double swing_diameter_mm);

struct Surfacing {
  double cutter_diameter_mm = 0;
  double stepover_mm = 0; ///< above 0, at most the diameter
  double tilt_deg = 0;    ///< lean of the spindle, in whichever direction
};

struct TramMarks {
  double dish_mm = 0;      ///< over the cutter's full width, lean along the feed
  double cusp_mm = 0;      ///< ridge between passes one stepover apart, lean along the feed
  double saw_tooth_mm = 0; ///< ridge between passes, lean across the feed
};

/// Heights of what is left standing. Throws InputError for sizes that cannot be.
TramMarks tram_marks(const Surfacing& surfacing);

} // namespace leastwall
