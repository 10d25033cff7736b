#include "budget/trial_draws.h"

#include "base/parallel.h"
#include "budget/draws.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 1024;

double unit_draw(const Cause& cause, bool second, double u1, double u2) {
  switch (cause.distribution) {
  case Distribution::shift:
    return 1;
  case Distribution::rectangle:
    return 2 * u1 - 1;
  case Distribution::normal:
    return normal_draw(u1, u2);
  case Distribution::one_sided:
    return u1;
  case Distribution::disc: {
    const double angle = 2 * std::numbers::pi * u2;
    return std::sqrt(u1) * (second ? std::sin(angle) : std::cos(angle));
  }
  case Distribution::overtaken:
    return cause.normal_roughing ? normal_draw(u1, u2) : 2 * u1 - 1;
  }
  return 0;
}

} // namespace

std::vector<Scalar> scalars_of(std::span<const Cause> causes, std::optional<std::size_t> freed) {
  std::vector<Scalar> scalars;
  for (std::size_t k = 0; k < causes.size(); ++k) {
    if ((causes[k].distribution == Distribution::shift && k != freed) || causes[k].field)
      continue;
    scalars.push_back({k, false});
    if (causes[k].distribution == Distribution::disc)
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
    streams.push_back(stream_of(causes_[s.cause].name));
  for_blocks(trials, kGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t m = begin; m < end; ++m)
      for (std::size_t s = 0; s < scalars_.size(); ++s)
        unit_[m * scalars_.size() + s] =
            unit_draw(causes_[scalars_[s].cause], scalars_[s].second,
                      uniform_draw(seed, m, streams[s], 0), uniform_draw(seed, m, streams[s], 1));
  });
}

void TrialDraws::errors(std::size_t trial, std::span<const double> sizes,
                        std::span<double> out) const {
  const double* unit = unit_.data() + trial * scalars_.size();
  for (std::size_t s = 0; s < scalars_.size(); ++s)
    out[s] = sizes[scalars_[s].cause] * unit[s];
  for (std::size_t s = 0; s < scalars_.size(); ++s) {
    const Cause& cause = causes_[scalars_[s].cause];
    if (cause.distribution != Distribution::overtaken)
      continue;
    double below = cause.allowance_mm + out[s];
    for (const std::size_t k : cause.finishing)
      below -= out[scalar_of_cause_[k]];
    out[s] = std::min(0.0, below);
  }
}

void TrialDraws::means(std::span<const double> sizes, std::span<double> out) const {
  for (std::size_t s = 0; s < scalars_.size(); ++s) {
    const std::size_t k = scalars_[s].cause;
    const Distribution d = causes_[k].distribution;
    out[s] = d == Distribution::one_sided ? sizes[k] / 2 : d == Distribution::shift ? sizes[k] : 0;
  }
}

} // namespace leastwall
