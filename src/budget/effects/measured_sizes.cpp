#include "budget/effects/measured_sizes.h"

#include "base/maths/hypot.h"
#include "base/sum_of_blocks.h"
#include "budget/effects/spread.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 2048;

/// What one unit of cause k can change at p: its own limit of a unit, known or not.
double unit_change(const Cause& cause, const WallSample& p) {
  const double c =
      maths::hypot(cause.sensitivity(p), cause.sensitivity_2 ? cause.sensitivity_2(p) : 0);
  return cause.distribution == Distribution::normal ? kNormalLimit * c : c;
}

/// Does one value in the job state both sizes?
bool one_setting(const Cause& a, const Cause& b) {
  return !a.setting.empty() && a.setting == b.setting;
}

} // namespace

std::vector<double> measured_sizes(std::span<const Cause> causes,
                                   std::span<const WallSample> samples, double spare_mm,
                                   const RunContext& run) {
  const std::size_t n = causes.size();
  // The thinning, and the change by one unit of each cause: the largest of every block.
  std::vector<double> none(n + 1, 0.0);
  const std::vector<double> most = sum_of_blocks(
      samples.size(), kGrain, run, none,
      [&](std::size_t begin, std::size_t end) {
        std::vector<double> largest(n + 1, 0.0);
        std::vector<Effect> effects(n);
        for (std::size_t i = begin; i < end; ++i) {
          const WallSample p{samples[i].at, samples[i].n, samples[i].wall_mm};
          effects_at(causes, p, effects);
          const Effect sum = sum_of(effects);
          largest[n] = std::max(largest[n], sum.half_width - sum.shift);
          for (std::size_t k = 0; k < n; ++k)
            largest[k] = std::max(largest[k], unit_change(causes[k], p));
        }
        return largest;
      },
      [](std::vector<double>& all, const std::vector<double>& part) {
        for (std::size_t k = 0; k < all.size(); ++k)
          all[k] = std::max(all[k], part[k]);
      });
  std::vector<double> sizes(n);
  for (std::size_t k = 0; k < n; ++k) {
    double together = 0;
    for (std::size_t j = 0; j < n; ++j)
      if (j == k || one_setting(causes[j], causes[k]))
        together += most[j];
    sizes[k] = together > 0
                   ? std::max(0.0, std::abs(causes[k].size) + (spare_mm - most[n]) / together)
                   : std::numeric_limits<double>::infinity();
  }
  return sizes;
}

} // namespace leastwall
