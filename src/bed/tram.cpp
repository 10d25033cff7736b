#include "bed/tram.h"

#include "base/errors.h"
#include "base/maths/angles.h"

#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace leastwall {
namespace {
const double kDegree = std::numbers::pi / 180;
}

double tram_deg(double total_reading_mm, double swing_diameter_mm) {
  if (!(swing_diameter_mm > 0) || !std::isfinite(swing_diameter_mm))
    throw InputError("tram: the dial must swing on a circle larger than 0 mm");
  if (!(total_reading_mm >= 0) || total_reading_mm > swing_diameter_mm)
    throw InputError(fmt::format("tram: a reading of {} mm over a swing of {} mm is no lean; give "
                                 "highest minus lowest reading",
                                 total_reading_mm, swing_diameter_mm));
  return maths::atan(total_reading_mm / swing_diameter_mm) / kDegree;
}

TramMarks tram_marks(const Surfacing& s) {
  if (!(s.cutter_diameter_mm > 0) || !std::isfinite(s.cutter_diameter_mm))
    throw InputError("tram: the cutter must be wider than 0 mm");
  if (!(s.stepover_mm > 0) || s.stepover_mm > s.cutter_diameter_mm)
    throw InputError(fmt::format("tram: a stepover of {} mm does not suit a cutter of {} mm; it "
                                 "must be above 0 and at most the diameter",
                                 s.stepover_mm, s.cutter_diameter_mm));
  if (!(std::fabs(s.tilt_deg) < 45))
    throw InputError(fmt::format("tram: a lean of {} degrees is no spindle", s.tilt_deg));
  const double tilt = std::fabs(s.tilt_deg) * kDegree, r = s.cutter_diameter_mm / 2;
  // R - sqrt(R^2 - W^2/4) without cancellation.
  const double q = s.stepover_mm * s.stepover_mm / 4;
  const double sagitta = q / (r + std::sqrt(std::fmax(0.0, r * r - q)));
  return {maths::sin(tilt) * r, maths::sin(tilt) * sagitta, s.stepover_mm * maths::tan(tilt)};
}

} // namespace leastwall
