// How flat readings of a bed are, what shape they have, and what is the likely cause.
//
// Heights mm, up positive, in the frame of the readings. Deviations are measured at right angles
// to the reference plane, as ISO 12781-1 does (read in secondary copies).
#pragma once

#include "base/notice.h"
#include "bed/minimum_zone.h"
#include "space/vec3.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace leastwall {

/// The plane with the least sum of squared vertical deviations, each reading with the same weight.
struct LeastSquaresPlane {
  double slope_x = 0, slope_y = 0, offset_mm = 0; ///< z = slope_x x + slope_y y + offset
  double peak_to_valley_mm = 0;                   ///< highest minus lowest deviation
  double vertical_mm = 0;                         ///< the same measured along z
  double rms_mm = 0;                              ///< root mean square deviation
};

/// One reading against the surface through all others, mm.
struct OffSurface {
  Vec3 at;              ///< the reading
  double height_mm = 0; ///< over that surface; negative below it
};

/// The shape, from a quadratic fitted over the readings together with steps; readings that stand
/// alone are left out of it. Absent where the readings cannot tell (fewer than three rows, a single
/// line, fewer readings than terms).
struct BedShape {
  std::optional<double> crown_x_mm; ///< middle above the two ends along x; a dip is negative
  std::optional<double> crown_y_mm;
  std::optional<double> twist_mm;  ///< two opposite corners above the other two
  std::optional<double> rise_x_mm; ///< from the low to the high end of the readings, along x
  std::optional<double> rise_y_mm;
  /// A step from one row of readings to the next.
  struct Step {
    bool along_x = true;  ///< going along x one crosses it
    double at_mm = 0;     ///< x (or y), half way between the two rows
    double height_mm = 0; ///< positive: the far side stands higher
  };
  std::vector<Step> steps;      ///< at most one an axis
  std::vector<OffSurface> lone; ///< readings off all their neighbours, the clearest first
  /// Straight ridges a fixed distance apart, where one such wave explains at least half of what
  /// the quadratic leaves over.
  struct Ridges {
    bool along_x = true;  ///< going along x one crosses them
    double apart_mm = 0;  ///< from ridge to ridge
    double height_mm = 0; ///< peak to valley of the wave
  };
  std::optional<Ridges> ridges;
  double left_over_rms_mm = 0;   ///< after plane, crown, twist, steps, without lone readings
  double left_over_range_mm = 0; ///< the same, highest minus lowest
  OffSurface left_over_peak;     ///< the largest of it, up or down
};

struct FlatnessOptions {
  double negligible_mm = 0.01;       ///< shapes smaller than this are not given a cause
  std::optional<double> stepover_mm; ///< of the last surfacing; ridges are compared with it
  /// False for readings that cannot see tilt, such as straightedge and feeler gaps: then tilt is
  /// absent from the result.
  bool tilt_known = true;
};

struct Flatness {
  std::size_t readings = 0;
  LeastSquaresPlane least_squares;
  MinimumZone minimum_zone;
  double range_mm = 0; ///< highest minus lowest reading, tilt and all
  /// Rise along x and y, of the shape (`BedShape::rise_x_mm`).
  std::optional<double> tilt_x_mm_per_m, tilt_y_mm_per_m, tilt_x_deg, tilt_y_deg;
  BedShape shape;
  Vec3 lowest, highest;                     ///< readings as they are
  Vec3 lowest_off_plane, highest_off_plane; ///< z is the deviation from the least squares plane
  std::vector<Notice> likely_causes;        ///< biggest first; codes tilt, crown, dip, twist, step,
                                            ///< ridges, lone-reading, local
};

/// Judges readings (x, y, height). Throws InputError when there are none.
Flatness judge_flatness(std::span<const Vec3> readings, const FlatnessOptions& options = {});

/// The plane alone. Readings on one line get a slope along that line only.
LeastSquaresPlane least_squares_plane(std::span<const Vec3> readings);

/// Crown, twist, steps, ridges and readings that stand alone, beside the rise of the bed.
BedShape bed_shape(std::span<const Vec3> readings);

/// What a reading that stands alone may be, and that it wants to be read again; code lone-reading.
Notice lone_reading_notice(const OffSurface& reading);

} // namespace leastwall
