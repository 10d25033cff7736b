#include "budget/trials/outcome.h"

#include "base/parallel.h"
#include "budget/effects/most_thinning.h"
#include "budget/effects/spread.h"
#include "budget/trials/tail_of_wall.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <list>
#include <optional>
#include <utility>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 2048;

struct LeastOfWall {
  double expected_mm = 0, worst_mm = 0;
};

LeastOfWall least_among(std::span<const WallSample> samples, const Limits& limits,
                        const RunContext& run) {
  const std::size_t n = samples.size(), blocks = (n + kGrain - 1) / kGrain;
  std::vector<double> expected(blocks, std::numeric_limits<double>::infinity()), worst = expected;
  for_blocks(n, kGrain, run, [&](std::size_t begin, std::size_t end) {
    const std::size_t block = begin / kGrain;
    for (std::size_t i = begin; i < end; ++i) {
      const Limits::At sum = limits.at({samples[i].at, samples[i].n, samples[i].wall_mm});
      const double expects = samples[i].wall_mm + sum.shift;
      expected[block] = std::min(expected[block], expects);
      worst[block] = std::min(worst[block], expects - sum.half_width);
    }
  });
  return {*std::min_element(expected.begin(), expected.end()),
          *std::min_element(worst.begin(), worst.end())};
}

/// Of all samples; those are not asked that are too thick to be the least.
LeastOfWall least_of(std::span<const Cause> causes, const ThinFirst& samples,
                     const RunContext& run) {
  const Limits limits(causes);
  const std::optional<MostThinning> most =
      most_thinning(causes, sizes_of(causes), largest_draws(causes), samples.places());
  if (!most || samples.few())
    return least_among(samples.all(), limits, run);
  const LeastOfWall least = least_among(samples.first(), limits, run);
  // No sample beyond is thinner at worst; nor as expected, which is above the worst by no more than
  // what is not known.
  const double to_mm = least.worst_mm + most->worst_mm + kRounding_mm;
  return to_mm <= samples.first_to_mm() ? least : least_among(samples.under(to_mm), limits, run);
}

} // namespace

void lessen(std::vector<double>& least, std::span<const double> other, double over_mm) {
  for (std::size_t t = 0; t < least.size(); ++t)
    least[t] = std::min(least[t], other[t] - over_mm);
}

std::size_t accepted_fails(double accepted, std::size_t trials) {
  // 0.05 x 20000 is 1000 and not a hair less.
  return static_cast<std::size_t>(std::floor(accepted * static_cast<double>(trials) * (1 + 4e-16)));
}

Outcome outcome_of(std::span<const JudgedWall> walls, const OutcomeOptions& options,
                   const RunContext& run) {
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  Outcome outcome;
  outcome.least_expected_mm = outcome.least_worst_mm = kInfinity;
  bool through = false;
  std::list<ThinFirst> made; // those of the walls that have none yet
  std::vector<const ThinFirst*> samples;
  for (const JudgedWall& wall : walls) {
    samples.push_back(wall.thin_first ? wall.thin_first : &made.emplace_back(wall.samples));
    const LeastOfWall least = least_of(wall.causes, *samples.back(), run);
    through = through || !(least.expected_mm > 0);
    outcome.least_expected_mm =
        std::min(outcome.least_expected_mm, least.expected_mm - wall.over_mm);
    outcome.least_worst_mm = std::min(outcome.least_worst_mm, least.worst_mm - wall.over_mm);
  }
  outcome.guaranteed_mm = outcome.least_worst_mm;
  if (options.basis == VerdictBasis::chance) {
    const std::size_t accepted = accepted_fails(options.accepted_chance, options.trials);
    std::vector<double> least(options.trials, kInfinity);
    // Nothing but the wall that holds is asked for: no limit. Each wall's own is not under the
    // job's, and up to there every trial is exact.
    for (std::size_t w = 0; w < walls.size(); ++w)
      lessen(least,
             tail_of_wall(walls[w].causes, *samples[w], {options.trials, options.seed, {}},
                          accepted, -kInfinity, run)
                 .least,
             walls[w].over_mm);
    outcome.guaranteed_mm = held_by_all_but(accepted, std::move(least));
  }
  const bool holds = outcome.guaranteed_mm >= options.limit_mm;
  outcome.verdict = through                                        ? Verdict::cut_through
                    : outcome.least_expected_mm < options.limit_mm ? Verdict::thin
                    : holds                                        ? Verdict::safe
                                                                   : Verdict::at_risk;
  return outcome;
}

Outcome outcome_of(std::span<const Cause> causes, std::span<const WallSample> samples,
                   const OutcomeOptions& options, const RunContext& run) {
  const JudgedWall wall{causes, samples};
  return outcome_of(std::span(&wall, 1), options, run);
}

} // namespace leastwall
