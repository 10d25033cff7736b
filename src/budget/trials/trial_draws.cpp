#include "budget/trials/trial_draws.h"

#include "base/parallel.h"
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
  std::vector<std::uint64_t> streams;
  for (const Scalar& s : scalars_)
    streams.push_back(stream_of(causes_[s.cause].id));
  for_blocks(trials, kGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t m = begin; m < end; ++m)
      for (std::size_t s = 0; s < scalars_.size(); ++s)
        unit_[m * scalars_.size() + s] = causes_[scalars_[s].cause].distribution.unit_draw(
            uniform_draw(seed, m, streams[s], 0), uniform_draw(seed, m, streams[s], 1),
            scalars_[s].second);
  });
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

void TrialDraws::means(std::span<const double> sizes, std::span<double> out) const {
  for (std::size_t s = 0; s < scalars_.size(); ++s) {
    const std::size_t k = scalars_[s].cause;
    out[s] = causes_[k].overcut ? 0 : causes_[k].distribution.middle(sizes[k]);
  }
}

} // namespace leastwall
