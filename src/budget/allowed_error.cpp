#include "budget/allowed_error.h"

#include "base/parallel.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 64;

using Status = std::vector<unsigned char>; // per trial: 1 fails

// One cause's size against the trials.
class Search {
 public:
  Search(const PieceTrials& trials, std::span<const Cause> causes, std::size_t k,
         const OutcomeOptions& options, const RunContext& run)
      : trials_(trials), sizes_(sizes_of(causes)), k_(k), options_(options), run_(run),
        sign_(causes[k].size < 0 ? -1 : 1) {}

  std::optional<double> largest() {
    if (!passes(0, nullptr, nullptr, low_))
      return std::nullopt;
    const double most = std::min(kLargestAsked, trials_.valid_up_to(k_));
    double low = 0, high = std::min(most, std::max(0.1, 2 * std::abs(sizes_[k_])));
    while (passes(high, nullptr, nullptr, high_)) {
      if (high >= most)
        return sign_ * most;
      low = high;
      low_.swap(high_);
      high = std::min(most, 2 * high);
    }
    Status middle;
    while (high - low > kAllowedStep) {
      const double size = (low + high) / 2;
      if (passes(size, &low_, &high_, middle)) {
        low = size;
        low_.swap(middle);
      } else {
        high = size;
        high_.swap(middle);
      }
    }
    return sign_ * low;
  }

 private:
  // Fills `out` for every trial; those that hold at both neighbouring sizes are not tried again.
  bool passes(double size, const Status* below, const Status* above, Status& out) {
    std::vector<double> sizes = sizes_;
    sizes[k_] = sign_ * size;
    out.assign(trials_.trials(), 0);
    std::vector<std::size_t> open;
    for (std::size_t t = 0; t < out.size(); ++t)
      if (!below || (*below)[t] || (*above)[t])
        open.push_back(t);
    for_blocks(open.size(), kGrain, run_, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i)
        out[open[i]] = trials_.fails(open[i], sizes) ? 1 : 0;
    });
    const auto fails = static_cast<std::size_t>(std::count(out.begin(), out.end(), 1));
    const double expected = trials_.least_expected(sizes);
    return expected > 0 && expected >= options_.limit_mm &&
           fails <= accepted_fails(options_.accepted_chance, trials_.trials());
  }

  const PieceTrials& trials_;
  std::vector<double> sizes_;
  std::size_t k_;
  const OutcomeOptions& options_;
  const RunContext& run_;
  double sign_;
  Status low_, high_;
};

std::optional<double> largest_in_worst_case(std::vector<Cause> causes, std::size_t k,
                                            std::span<const WallSample> samples,
                                            const OutcomeOptions& options, const RunContext& run) {
  const double sign = causes[k].size < 0 ? -1 : 1;
  const auto passes = [&](double size) {
    causes[k].size = sign * size;
    return outcome_of(causes, samples, options, run).verdict == Verdict::safe;
  };
  if (!passes(0))
    return std::nullopt;
  if (passes(kLargestAsked))
    return sign * kLargestAsked;
  double low = 0, high = kLargestAsked;
  while (high - low > kAllowedStep) {
    const double size = (low + high) / 2;
    (passes(size) ? low : high) = size;
  }
  return sign * low;
}

} // namespace

std::vector<std::optional<double>> allowed_errors(std::span<const Cause> causes,
                                                  std::span<const WallSample> samples,
                                                  const OutcomeOptions& options,
                                                  const RunContext& run) {
  std::vector<std::optional<double>> allowed(causes.size());
  const bool chance = options.basis == VerdictBasis::chance;
  const TrialOptions plain{options.trials, options.seed, std::nullopt};
  std::optional<PieceTrials> trials;
  for (std::size_t k = 0; k < causes.size(); ++k) {
    if (causes[k].unit.empty())
      continue;
    if (!chance) {
      allowed[k] = largest_in_worst_case({causes.begin(), causes.end()}, k, samples, options, run);
    } else if (causes[k].distribution == Distribution::shift) {
      TrialOptions freed = plain;
      freed.freed_shift = k;
      PieceTrials own(causes, samples, freed, run);
      own.prepare_sizes(options.limit_mm, run);
      allowed[k] = Search(own, causes, k, options, run).largest();
    } else {
      if (!trials) {
        trials.emplace(causes, samples, plain, run);
        trials->prepare_sizes(options.limit_mm, run);
      }
      allowed[k] = Search(*trials, causes, k, options, run).largest();
    }
  }
  return allowed;
}

} // namespace leastwall
