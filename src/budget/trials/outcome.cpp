#include "budget/trials/outcome.h"

#include "base/parallel.h"
#include "budget/effects/spread.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 2048;

} // namespace

std::size_t accepted_fails(double accepted, std::size_t trials) {
  // 0.05 x 20000 is 1000 and not a hair less.
  return static_cast<std::size_t>(std::floor(accepted * static_cast<double>(trials) * (1 + 4e-16)));
}

Outcome outcome_of(std::span<const Cause> causes, std::span<const WallSample> samples,
                   const OutcomeOptions& options, const RunContext& run) {
  const std::size_t n = samples.size(), blocks = (n + kGrain - 1) / kGrain;
  std::vector<double> expected(blocks, std::numeric_limits<double>::infinity()), worst = expected;
  const Limits limits(causes);
  for_blocks(n, kGrain, run, [&](std::size_t begin, std::size_t end) {
    const std::size_t block = begin / kGrain;
    for (std::size_t i = begin; i < end; ++i) {
      const Limits::At sum = limits.at({samples[i].at, samples[i].n, samples[i].wall_mm});
      const double wall = samples[i].wall_mm + sum.shift;
      expected[block] = std::min(expected[block], wall);
      worst[block] = std::min(worst[block], wall - sum.half_width);
    }
  });
  Outcome outcome;
  outcome.least_expected_mm = *std::min_element(expected.begin(), expected.end());
  outcome.least_worst_mm = *std::min_element(worst.begin(), worst.end());
  outcome.guaranteed_mm = outcome.least_worst_mm;
  if (options.basis == VerdictBasis::chance) {
    const PieceTrials trials(causes, samples, {options.trials, options.seed, {}}, run);
    const std::size_t accepted = accepted_fails(options.accepted_chance, options.trials);
    // Nothing but the wall that holds is asked for: no limit.
    outcome.guaranteed_mm =
        trials.tail(accepted, -std::numeric_limits<double>::infinity(), run).guaranteed_mm;
  }
  outcome.verdict =
      judge(outcome.least_expected_mm, options.limit_mm, outcome.guaranteed_mm >= options.limit_mm);
  return outcome;
}

} // namespace leastwall
