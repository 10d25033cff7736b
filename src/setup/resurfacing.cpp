#include "setup/resurfacing.h"

#include "bed/tram.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {

Residual residual_flatness(const Resurfacing& r) {
  if (r.residual_mm)
    return {*r.residual_mm, "as stated"};
  if (r.tram_reading_mm && r.tram_swing_mm && r.cutter_mm && r.stepover_mm) {
    const double lean = tram_deg(*r.tram_reading_mm, *r.tram_swing_mm);
    const TramMarks marks = tram_marks({*r.cutter_mm, *r.stepover_mm, lean});
    return {std::max(marks.saw_tooth_mm, marks.cusp_mm),
            fmt::format("ridges of a spindle {:.3f} degrees out of tram, {:.4g} mm a pass", lean,
                        *r.stepover_mm)};
  }
  return {kUsualResidual, "common practice, no one stated it"};
}

} // namespace leastwall
