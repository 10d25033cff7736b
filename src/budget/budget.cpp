#include "budget/budget.h"

#include "base/errors.h"
#include "base/parallel.h"
#include "budget/known_words.h"
#include "budget/spread.h"
#include "setup/causes.h"

#include <cmath>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 2048;

void require_usable(std::span<const WallSample> samples, const BudgetOptions& options) {
  if (samples.empty())
    throw InputError("no wall was measured: the skin and the pocket have no place in common");
  if (!std::isfinite(options.limit_mm) || options.limit_mm < 0)
    throw InputError("the limit must be 0 or more mm");
  if (!(options.accepted_chance >= 0 && options.accepted_chance < 1))
    throw InputError("the accepted chance must be from 0 to under 1, e.g. 0.05 for 1 in 20");
  if (!(options.coverage_factor > 0) || !std::isfinite(options.coverage_factor))
    throw InputError("the coverage factor must be above 0, e.g. 2");
}

CausePoint cause_point(const WallSample& s) {
  return {s.at, s.n, s.wall_mm};
}

void fill_samples(std::span<const Cause> causes, std::span<const WallSample> samples,
                  const RunContext& run, Budget& out) {
  out.expected_mm.resize(samples.size());
  out.worst_mm.resize(samples.size());
  out.worst_cause.resize(samples.size());
  for_blocks(samples.size(), kGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<Effect> effects(causes.size());
    for (std::size_t i = begin; i < end; ++i) {
      effects_at(causes, cause_point(samples[i]), effects);
      const Effect sum = sum_of(effects);
      out.expected_mm[i] = samples[i].wall_mm + sum.shift;
      out.worst_mm[i] = out.expected_mm[i] - sum.half_width;
      double most = 0;
      out.worst_cause[i] = kNoCause;
      for (std::size_t k = 0; k < causes.size(); ++k) {
        const double thinner = effects[k].half_width - effects[k].shift;
        if (thinner > most) {
          most = thinner;
          out.worst_cause[i] = static_cast<std::uint32_t>(k);
        }
      }
    }
  });
}

void fill_table(std::span<const Cause> causes, const CausePoint& thinnest, Budget& out) {
  std::vector<Effect> effects(causes.size());
  effects_at(causes, thinnest, effects);
  const double u = sum_of(effects).u;
  for (std::size_t k = 0; k < causes.size(); ++k) {
    CauseRow row;
    row.name = causes[k].name;
    row.side = causes[k].side;
    row.known = known_words(causes[k]);
    row.at_thinnest_mm =
        causes[k].distribution == Distribution::shift ? effects[k].shift : effects[k].half_width;
    row.share = u > 0 ? effects[k].u * effects[k].u / (u * u) : 0;
    out.causes.push_back(row);
  }
}

} // namespace

Budget compute_budget(const Setup& setup, std::span<const WallSample> samples,
                      const BudgetOptions& options, const RunContext& run) {
  require_usable(samples, options);
  Budget out;
  const std::vector<Cause> causes = causes_of(setup, out.assumptions);
  fill_samples(causes, samples, run, out);

  out.least_worst_mm = out.worst_mm[0];
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (!std::isfinite(out.expected_mm[i]) || !std::isfinite(out.worst_mm[i]))
      throw InputError("a wall or an error in the set-up is not a number");
    if (out.expected_mm[i] < out.expected_mm[out.thinnest])
      out.thinnest = i;
    out.least_worst_mm = std::min(out.least_worst_mm, out.worst_mm[i]);
  }
  out.least_expected_mm = out.expected_mm[out.thinnest];
  const CausePoint thinnest = cause_point(samples[out.thinnest]);
  fill_table(causes, thinnest, out);

  std::vector<Effect> effects(causes.size());
  effects_at(causes, thinnest, effects);
  const double spread = options.coverage_factor * sum_of(effects).u;
  out.spread_low_mm = out.least_expected_mm - spread;
  out.spread_high_mm = out.least_expected_mm + spread;
  out.verdict =
      judge(out.least_expected_mm, options.limit_mm, out.least_worst_mm >= options.limit_mm);
  out.verdict_basis = "worst case: every error at its limit at once";
  return out;
}

} // namespace leastwall
