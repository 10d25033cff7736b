#include "bed/bed_marks.h"
#include "bed/bed_ridges.h"
#include "bed/bed_terms.h"
#include "bed/flatness.h"
#include "bed/reading_plan.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

/// Crown, twist and rise of a fit; along a line, of the axis that is nearer to it.
void set_smooth(BedShape& shape, const BedFit& fit, const ReadingPlan& plan) {
  const auto times = [](std::optional<double> value, double by) {
    return value ? std::optional(by * *value) : std::nullopt;
  };
  const auto uu = times(fit.of(BedTerm::uu), -1), rise = times(fit.of(BedTerm::u), 2);
  if (plan.axes == 2) {
    shape.crown_x_mm = uu;
    shape.crown_y_mm = times(fit.of(BedTerm::vv), -1);
    shape.twist_mm = times(fit.of(BedTerm::uv), 2);
    shape.rise_x_mm = rise;
    shape.rise_y_mm = times(fit.of(BedTerm::v), 2);
    return;
  }
  const bool along_y = std::fabs(plan.ey) > std::fabs(plan.ex);
  (along_y ? shape.crown_y_mm : shape.crown_x_mm) = uu;
  const auto half = [](double e) { return e < 0 ? -1.0 : 1.0; };
  if (plan.size_x > 1e-6 * plan.extent)
    shape.rise_x_mm = times(rise, half(plan.ex));
  if (plan.size_y > 1e-6 * plan.extent)
    shape.rise_y_mm = times(rise, half(plan.ey));
}

} // namespace

BedShape bed_shape(std::span<const Vec3> readings) {
  BedShape shape;
  if (readings.empty())
    return shape;
  const ReadingPlan plan = reading_plan(readings);
  const std::vector<BedSample> all = bed_samples(readings, plan);
  const BedMarks marks = find_bed_marks(all, plan.axes);
  std::vector<BedSample> samples;
  std::vector<std::size_t> of_reading;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (std::any_of(marks.lone.begin(), marks.lone.end(),
                    [&](const LoneSample& l) { return l.index == i; }))
      continue;
    samples.push_back(all[i]);
    of_reading.push_back(i);
  }
  for (const LoneSample& lone : marks.lone)
    shape.lone.push_back({readings[lone.index], lone.height_mm});
  const BedFit fit = fit_quadratic(samples, plan.axes, marks.steps);
  set_smooth(shape, fit, plan);
  for (std::size_t k = 0; k < fit.terms.steps.size(); ++k) {
    const BedStepTerm& step = fit.terms.steps[k];
    const bool along_x = plan.axes == 2 ? step.along : std::fabs(plan.ex) >= std::fabs(plan.ey);
    const double way = plan.axes == 2 ? 1 : along_x ? plan.ex : plan.ey;
    shape.steps.push_back({along_x, (along_x ? plan.middle_x : plan.middle_y) + way * step.at_mm,
                           way < 0 ? -fit.step(k) : fit.step(k)});
  }
  std::vector<double> rest;
  double largest = 0;
  std::size_t low = 0, high = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    rest.push_back(fit.rest(static_cast<long>(i)));
    largest = std::max(largest, std::fabs(samples[i].z));
    low = rest[i] < rest[low] ? i : low;
    high = rest[i] > rest[high] ? i : high;
  }
  shape.left_over_rms_mm = std::sqrt(fit.squares / static_cast<double>(samples.size()));
  shape.left_over_range_mm = rest[high] - rest[low];
  const std::size_t peak = std::fabs(rest[low]) > std::fabs(rest[high]) ? low : high;
  shape.left_over_peak = {readings[of_reading[peak]], rest[peak]};
  if (shape.left_over_rms_mm > 1e-9 * largest)
    shape.ridges = find_ridges(samples, rest, plan);
  return shape;
}

} // namespace leastwall
