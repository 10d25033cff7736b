#include "budget/fill_allowed.h"

#include "budget/effects/measured_sizes.h"
#include "budget/trials/allowed_error.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

/// Whether one value of the job makes both as large as they are.
bool grow_together(const Cause& a, const Cause& b) {
  return a.id == b.id || (!a.setting.empty() && a.setting == b.setting);
}

/// Up to which size each cause of the first wall was measured in this one.
void stay_within(const MeasuredWall& measured, std::span<const Cause> causes,
                 const OutcomeOptions& options, const RunContext& run,
                 std::vector<CauseRow>& rows) {
  if (!std::isfinite(measured.measured_to_mm))
    return;
  const JudgedWall& wall = measured.wall;
  const double spare_mm = measured.measured_to_mm - (options.limit_mm + wall.over_mm);
  const std::vector<double> sizes = measured_sizes(wall.causes, wall.samples, spare_mm, run);
  // A wall's own sizes count those of one value together already.
  const auto grows_with = [&](std::size_t k, std::size_t i) {
    return wall.causes.data() == causes.data() ? i == k : grow_together(causes[k], wall.causes[i]);
  };
  for (std::size_t k = 0; k < rows.size(); ++k)
    for (std::size_t i = 0; i < sizes.size(); ++i)
      if (std::optional<double>& most = rows[k].largest_allowed_mm;
          grows_with(k, i) && most && std::abs(*most) > sizes[i]) {
        most = std::copysign(std::floor(sizes[i] / kAllowedStep + 1e-9) * kAllowedStep, *most);
        rows[k].allowed_at_least = true;
      }
}

} // namespace

void fill_allowed(std::span<const MeasuredWall> walls, const OutcomeOptions& options,
                  const RunContext& run, std::vector<CauseRow>& rows) {
  std::vector<JudgedWall> judged;
  for (const MeasuredWall& measured : walls)
    judged.push_back(measured.wall);
  const std::vector<std::optional<double>> allowed =
      allowed_errors(std::span<const JudgedWall>(judged), options, run);
  for (std::size_t k = 0; k < rows.size(); ++k)
    rows[k].largest_allowed_mm = allowed[k];
  for (const MeasuredWall& measured : walls)
    stay_within(measured, judged.front().causes, options, run, rows);
}

} // namespace leastwall
