#include "bed/flatness.h"

#include "base/errors.h"
#include "base/maths/angles.h"
#include "base/maths/extended.h"
#include "bed/reading_plan.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace leastwall {
namespace {

struct Cause {
  double size_mm;
  Notice notice;
};

double degrees(double slope) {
  return maths::atan(slope) * 180 / std::numbers::pi;
}

void add_crown(std::vector<Cause>& causes, std::optional<double> crown, const char* axis) {
  if (!crown)
    return;
  if (*crown > 0)
    causes.push_back(
        {*crown,
         {"crown", fmt::format("The middle stands {:.3f} mm above the ends along {}: a "
                               "strut or screw pushes the board up, or the spindle "
                               "comes down in the middle because its beam sags.",
                               *crown, axis)}});
  else
    causes.push_back(
        {-*crown,
         {"dip", fmt::format("The middle lies {:.3f} mm below the ends along {}: the bed sags "
                             "between its supports; look for a missing strut.",
                             -*crown, axis)}});
}

void add_tilt(std::vector<Cause>& causes, std::optional<double> rise, const char* axis) {
  if (rise)
    causes.push_back(
        {std::fabs(*rise),
         {"tilt", fmt::format("The bed {} {:.3f} mm along {}: the spindle's rail or the "
                              "frame is not parallel to it.",
                              *rise >= 0 ? "rises" : "falls", std::fabs(*rise), axis)}});
}

void add_step(std::vector<Cause>& causes, const BedShape::Step& step) {
  causes.push_back(
      {std::fabs(step.height_mm),
       {"step",
        fmt::format("A step {} by {:.3f} mm near {} {:.1f}: a joint between boards or slats "
                    "of the bed, or a chip under one of them.",
                    step.height_mm > 0 ? "up" : "down", std::fabs(step.height_mm),
                    step.along_x ? "x" : "y", step.at_mm)}});
}

/// What follows no simple shape counts when it is most of the bed, or one place of it is far off.
void add_local(std::vector<Cause>& causes, const Flatness& f) {
  const BedShape& s = f.shape;
  const double peak = std::fabs(s.left_over_peak.height_mm), whole = f.least_squares.vertical_mm;
  const bool high = peak > 3.5 * s.left_over_rms_mm && peak > 0.25 * whole;
  if (!high && !(4 * s.left_over_rms_mm > whole / 2))
    return;
  causes.push_back(
      {s.left_over_range_mm,
       {"local",
        fmt::format("{:.3f} mm of it, most at x {:.1f} y {:.1f}, follows no simple shape: local "
                    "bumps, dirt or screw heads, or scatter of the readings. Clean and read again.",
                    s.left_over_range_mm, s.left_over_peak.at.x, s.left_over_peak.at.y)}});
}

void add_ridges(std::vector<Cause>& causes, const BedShape::Ridges& r,
                const std::optional<double>& stepover) {
  std::string text = fmt::format("Ridges {:.3f} mm high and {:.1f} mm apart along {}", r.height_mm,
                                 r.apart_mm, r.along_x ? "x" : "y");
  if (!stepover)
    text += ": if that is the stepover of the last surfacing, the spindle is out of tram.";
  else if (std::fabs(r.apart_mm - *stepover) <= 0.15 * *stepover)
    text += ", one stepover: the spindle is out of tram.";
  else
    text += fmt::format(", not the stepover of {:.1f} mm: look for boards, slots or a lead screw "
                        "of that pitch.",
                        *stepover);
  causes.push_back({r.height_mm, {"ridges", std::move(text)}});
}

std::vector<Notice> likely_causes(const Flatness& f, const FlatnessOptions& options) {
  std::vector<Cause> causes;
  if (options.tilt_known) {
    add_tilt(causes, f.shape.rise_x_mm, "x");
    add_tilt(causes, f.shape.rise_y_mm, "y");
  }
  add_crown(causes, f.shape.crown_x_mm, "x");
  add_crown(causes, f.shape.crown_y_mm, "y");
  if (f.shape.twist_mm)
    causes.push_back({std::fabs(*f.shape.twist_mm),
                      {"twist", fmt::format("Two opposite corners stand {:.3f} mm above the other "
                                            "two: the frame is twisted or stands on three feet.",
                                            std::fabs(*f.shape.twist_mm))}});
  for (const BedShape::Step& step : f.shape.steps)
    add_step(causes, step);
  for (const OffSurface& reading : f.shape.lone)
    causes.push_back({std::fabs(reading.height_mm), lone_reading_notice(reading)});
  if (f.shape.ridges)
    add_ridges(causes, *f.shape.ridges, options.stepover_mm);
  else
    add_local(causes, f);
  double largest = 0;
  for (const Cause& c : causes)
    largest = std::max(largest, c.size_mm);
  // A shape counts when it is large enough to matter and not a mere fifth of the main one.
  std::erase_if(causes, [&](const Cause& c) {
    return !(c.size_mm > options.negligible_mm) || c.size_mm < 0.2 * largest;
  });
  std::stable_sort(causes.begin(), causes.end(),
                   [](const Cause& a, const Cause& b) { return a.size_mm > b.size_mm; });
  std::vector<Notice> out;
  for (Cause& c : causes)
    out.push_back(std::move(c.notice));
  return out;
}

} // namespace

Notice lone_reading_notice(const OffSurface& reading) {
  const bool up = reading.height_mm > 0;
  return {"lone-reading",
          fmt::format("One reading of the bed, at x {:.1f} y {:.1f}, {} {:.3f} mm {} all its "
                      "neighbours: {}, or a slip of the pen. Clean there and read it again.",
                      reading.at.x, reading.at.y, up ? "stands" : "lies",
                      std::fabs(reading.height_mm), up ? "above" : "below",
                      up ? "chips under the dial, a bump" : "a dent, a slot or a screw hole")};
}

LeastSquaresPlane least_squares_plane(std::span<const Vec3> readings) {
  if (readings.empty())
    throw InputError("flatness: there are no readings");
  const ReadingPlan plan = reading_plan(readings);
  const double half = plan.extent > 0 ? plan.extent / 2 : 1;
  // Centred and scaled, in extended precision: the normal equations lose nothing that matters.
  using Real = maths::Extended;
  using std::sqrt;
  const Real n = static_cast<double>(readings.size());
  Real mx = 0, my = 0, mz = 0;
  for (const Vec3& p : readings) {
    mx += p.x / n;
    my += p.y / n;
    mz += p.z / n;
  }
  Real ss = 0, st = 0, tt = 0, sz = 0, tz = 0;
  for (const Vec3& p : readings) {
    const Real x = (p.x - mx) / half, y = (p.y - my) / half, z = p.z - mz;
    const Real s = plan.ex * x + plan.ey * y, t = plan.ex * y - plan.ey * x;
    ss += s * s;
    st += s * t;
    tt += t * t;
    sz += s * z;
    tz += t * z;
  }
  Real along = 0, across = 0;
  if (plan.axes == 1) {
    along = sz / ss;
  } else if (plan.axes == 2) {
    const Real det = ss * tt - st * st;
    along = (sz * tt - tz * st) / det;
    across = (tz * ss - sz * st) / det;
  }
  LeastSquaresPlane out;
  out.slope_x = static_cast<double>((along * plan.ex - across * plan.ey) / half);
  out.slope_y = static_cast<double>((along * plan.ey + across * plan.ex) / half);
  out.offset_mm = static_cast<double>(mz - out.slope_x * mx - out.slope_y * my);
  Real low = 0, high = 0, squares = 0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const Vec3& p = readings[i];
    const Real r = (p.z - mz) - out.slope_x * (p.x - mx) - out.slope_y * (p.y - my);
    low = i == 0 ? r : std::min(low, r);
    high = i == 0 ? r : std::max(high, r);
    squares += r * r;
  }
  const double tilt = std::sqrt(1 + out.slope_x * out.slope_x + out.slope_y * out.slope_y);
  out.vertical_mm = static_cast<double>(high - low);
  out.peak_to_valley_mm = out.vertical_mm / tilt;
  out.rms_mm = static_cast<double>(sqrt(squares / n)) / tilt;
  return out;
}

Flatness judge_flatness(std::span<const Vec3> readings, const FlatnessOptions& options) {
  Flatness f;
  f.readings = readings.size();
  f.least_squares = least_squares_plane(readings);
  f.minimum_zone = minimum_zone(readings);
  f.shape = bed_shape(readings);
  const LeastSquaresPlane& plane = f.least_squares;
  const double tilt = std::sqrt(1 + plane.slope_x * plane.slope_x + plane.slope_y * plane.slope_y);
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const Vec3& p = readings[i];
    const Vec3 off{p.x, p.y,
                   (p.z - plane.slope_x * p.x - plane.slope_y * p.y - plane.offset_mm) / tilt};
    if (i == 0 || p.z < f.lowest.z)
      f.lowest = p;
    if (i == 0 || p.z > f.highest.z)
      f.highest = p;
    if (i == 0 || off.z < f.lowest_off_plane.z)
      f.lowest_off_plane = off;
    if (i == 0 || off.z > f.highest_off_plane.z)
      f.highest_off_plane = off;
  }
  f.range_mm = f.highest.z - f.lowest.z;
  const ReadingPlan plan = reading_plan(readings);
  if (options.tilt_known) {
    const auto set = [](std::optional<double> rise, double size, std::optional<double>& per_m,
                        std::optional<double>& deg) {
      if (!rise)
        return;
      per_m = 1000 * *rise / size;
      deg = degrees(*rise / size);
    };
    set(f.shape.rise_x_mm, plan.size_x, f.tilt_x_mm_per_m, f.tilt_x_deg);
    set(f.shape.rise_y_mm, plan.size_y, f.tilt_y_mm_per_m, f.tilt_y_deg);
  }
  f.likely_causes = likely_causes(f, options);
  return f;
}

} // namespace leastwall
