#include "budget/trials/outcome.h"

#include "base/parallel.h"
#include "budget/effects/spread.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 2048;

struct LeastOfWall {
  double expected_mm = 0, worst_mm = 0;
};

LeastOfWall least_of(const JudgedWall& wall, const RunContext& run) {
  const std::span<const WallSample> samples = wall.samples;
  const std::size_t n = samples.size(), blocks = (n + kGrain - 1) / kGrain;
  std::vector<double> expected(blocks, std::numeric_limits<double>::infinity()), worst = expected;
  const Limits limits(wall.causes);
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
  for (const JudgedWall& wall : walls) {
    const LeastOfWall least = least_of(wall, run);
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
    for (const JudgedWall& wall : walls)
      lessen(least,
             PieceTrials(wall.causes, wall.samples, {options.trials, options.seed, {}}, run)
                 .tail(accepted, -kInfinity, run)
                 .least,
             wall.over_mm);
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
