#include "budget/trials/trial_draws.h"

#include "base/maths/hypot.h"
#include "base/parallel.h"
#include "budget/effects/most_thinning.h"
#include "budget/trials/counter_rng.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 1024;

} // namespace

std::vector<Scalar> scalars_of(std::span<const Cause> causes, std::optional<std::size_t> freed) {
  std::vector<Scalar> scalars;
  for (std::size_t k = 0; k < causes.size(); ++k) {
    if ((causes[k].distribution == Distribution::shift && k != freed) || causes[k].field)
      continue;
    scalars.push_back({k, false});
    if (causes[k].distribution.scalars() == 2)
      scalars.push_back({k, true});
  }
  return scalars;
}

std::vector<double> sizes_of(std::span<const Cause> causes) {
  std::vector<double> sizes;
  for (const Cause& c : causes)
    sizes.push_back(c.size);
  return sizes;
}

TrialDraws::TrialDraws(std::span<const Cause> causes, std::size_t trials, std::uint64_t seed,
                       std::optional<std::size_t> freed, const RunContext& run)
    : causes_(causes.begin(), causes.end()), scalars_(scalars_of(causes, freed)),
      scalar_of_cause_(causes.size(), 0), trials_(trials), unit_(trials * scalars_.size()) {
  for (std::size_t s = scalars_.size(); s-- > 0;)
    scalar_of_cause_[scalars_[s].cause] = s;
  struct Stream {
    std::uint64_t start;
    Distribution distribution;
    bool second;
  };
  std::vector<Stream> streams;
  for (const Scalar& s : scalars_)
    streams.push_back({stream_start(seed, stream_of(causes_[s.cause].id)),
                       causes_[s.cause].distribution, s.second});
  for_blocks(trials, kGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t m = begin; m < end; ++m)
      for (std::size_t s = 0; s < streams.size(); ++s) {
        const Stream& stream = streams[s];
        const double u1 = uniform_draw_from(stream.start, m, 0);
        const double u2 =
            stream.distribution.takes_two() ? uniform_draw_from(stream.start, m, 1) : 0.5;
        unit_[m * streams.size() + s] = stream.distribution.unit_draw(u1, u2, stream.second);
      }
  });
  find_largest_units();
}

// The two scalars of a disc are bounded together, by the distribution.
void TrialDraws::find_largest_units() {
  largest_units_ = largest_draws(causes_);
  std::vector<double> drawn(scalars_.size(), 0.0);
  for (std::size_t m = 0; m < trials_; ++m)
    for (std::size_t s = 0; s < drawn.size(); ++s)
      drawn[s] = std::max(drawn[s], std::abs(unit_[m * drawn.size() + s]));
  for (std::size_t s = 0; s < drawn.size(); ++s)
    if (causes_[scalars_[s].cause].distribution.scalars() == 1)
      largest_units_[scalars_[s].cause] = drawn[s];
}

void TrialDraws::errors(std::size_t trial, std::span<const double> sizes,
                        std::span<double> out) const {
  const double* unit = unit_.data() + trial * scalars_.size();
  for (std::size_t s = 0; s < scalars_.size(); ++s)
    out[s] = sizes[scalars_[s].cause] * unit[s];
  for (std::size_t s = 0; s < scalars_.size(); ++s) {
    const Cause& cause = causes_[scalars_[s].cause];
    if (!cause.overcut)
      continue;
    double below = cause.overcut->allowance_mm + out[s];
    for (const std::size_t k : cause.overcut->finishing)
      below -= out[scalar_of_cause_[k]];
    out[s] = std::min(0.0, below);
  }
}

double TrialDraws::unit(std::size_t trial, std::size_t k) const {
  const double* first = unit_.data() + trial * scalars_.size() + scalar_of_cause_[k];
  return causes_[k].distribution.scalars() == 2 ? maths::hypot(first[0], first[1])
                                                : std::abs(first[0]);
}

void TrialDraws::means(std::span<const double> sizes, std::span<double> out) const {
  for (std::size_t s = 0; s < scalars_.size(); ++s) {
    const std::size_t k = scalars_[s].cause;
    out[s] = causes_[k].overcut ? 0 : causes_[k].distribution.middle(sizes[k]);
  }
}

} // namespace leastwall
