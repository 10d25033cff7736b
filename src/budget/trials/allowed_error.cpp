#include "budget/trials/allowed_error.h"

#include "base/parallel.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 64;
constexpr double kBisected = kAllowedStep / 4;

using Status = std::vector<unsigned char>; // per trial: 1 fails

// The causes of one setting, and how their sizes follow its value.
class Setting {
 public:
  Setting(std::span<const Cause> causes, std::size_t first)
      : sizes_(sizes_of(causes)), value_(std::abs(causes[first].size)),
        most_(std::min(kLargestAsked, causes[first].most.value_or(kLargestAsked))),
        sign_(causes[first].size < 0 ? -1 : 1) {
    for (std::size_t k = first; k < causes.size(); ++k)
      if (k == first ||
          (!causes[first].setting.empty() && causes[k].setting == causes[first].setting))
        members_.push_back({k, value_ > 0 ? causes[k].size / value_ : sign_});
  }

  double value() const { return value_; }
  double most() const { return most_; }
  double signed_value(double value) const { return sign_ * value; }

  std::vector<double> sizes_at(double value) const {
    std::vector<double> sizes = sizes_;
    for (const Member& m : members_)
      sizes[m.cause] = m.per_value * value;
    return sizes;
  }

  template <class Body> void for_each(const Body& body) const {
    for (const Member& m : members_)
      body(m.cause, std::abs(m.per_value));
  }

 private:
  struct Member {
    std::size_t cause = 0;
    double per_value = 1;
  };
  std::vector<double> sizes_;
  double value_ = 0, most_ = kLargestAsked, sign_ = 1;
  std::vector<Member> members_;
};

// Samples were left out that have so much to spare that cause k alone may grow to valid_k. Growing
// together they may use up that spare together: each takes the part growth_k / (valid_k - size_k).
double valid_up_to(const PieceTrials& trials, const Setting& setting,
                   std::span<const Cause> causes) {
  double used = 0; // per unit that the value grows
  setting.for_each([&](std::size_t k, double per_value) {
    const double room = trials.valid_up_to(k) - std::abs(causes[k].size);
    used += room > 0 ? per_value / room : std::numeric_limits<double>::infinity();
  });
  return used > 0 ? setting.value() + 1 / used : std::numeric_limits<double>::infinity();
}

/// 0 holds, and what is over `high` is not asked for. The multiple of kAllowedStep at `high`
/// or under it that holds; as a rule one of the first two does.
double rounded_towards_0(double high, const std::function<bool(double)>& holds) {
  double steps = std::floor(high / kAllowedStep * (1 + 1e-12));
  for (int tries = 0; tries < 20 && steps > 0; ++tries, --steps)
    if (holds(steps * kAllowedStep))
      return steps * kAllowedStep;
  return 0;
}

// One setting's value against the trials.
class Search {
 public:
  Search(const PieceTrials& trials, const Setting& setting, std::span<const Cause> causes,
         const OutcomeOptions& options, const RunContext& run)
      : trials_(trials), setting_(setting), options_(options), run_(run),
        most_(std::min(setting.most(), valid_up_to(trials, setting, causes))) {}

  std::optional<double> largest() {
    if (!passes(0, nullptr, nullptr, low_))
      return std::nullopt;
    double low = 0, high = std::min(most_, std::max(0.1, 2 * setting_.value()));
    bool all = false;
    while (!all && passes(high, nullptr, nullptr, high_)) {
      low = high;
      low_.swap(high_);
      all = high >= most_;
      high = std::min(most_, 2 * high);
    }
    Status middle;
    while (!all && high - low > kBisected) {
      const double value = (low + high) / 2;
      if (passes(value, &low_, &high_, middle)) {
        low = value;
        low_.swap(middle);
      } else {
        high = value;
        high_.swap(middle);
      }
    }
    return setting_.signed_value(rounded_towards_0(
        high, [&](double value) { return passes(value, nullptr, nullptr, middle); }));
  }

 private:
  // Fills `out` for every trial; those that hold at both neighbouring values are not tried again.
  bool passes(double value, const Status* below, const Status* above, Status& out) {
    const std::vector<double> sizes = setting_.sizes_at(value);
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
  const Setting& setting_;
  const OutcomeOptions& options_;
  const RunContext& run_;
  double most_;
  Status low_, high_;
};

std::optional<double> largest_in_worst_case(std::vector<Cause> causes, const Setting& setting,
                                            std::span<const WallSample> samples,
                                            const OutcomeOptions& options, const RunContext& run) {
  const auto passes = [&](double value) {
    const std::vector<double> sizes = setting.sizes_at(value);
    for (std::size_t k = 0; k < causes.size(); ++k)
      causes[k].size = sizes[k];
    return outcome_of(causes, samples, options, run).verdict == Verdict::safe;
  };
  if (!passes(0))
    return std::nullopt;
  if (passes(setting.most()))
    return setting.signed_value(rounded_towards_0(setting.most(), passes));
  double low = 0, high = setting.most();
  while (high - low > kBisected) {
    const double value = (low + high) / 2;
    (passes(value) ? low : high) = value;
  }
  return setting.signed_value(rounded_towards_0(high, passes));
}

std::optional<double> largest_by_chance(std::span<const Cause> causes, std::size_t first,
                                        const Setting& setting, std::span<const WallSample> samples,
                                        const OutcomeOptions& options,
                                        std::optional<PieceTrials>& shared, const RunContext& run) {
  if (causes[first].distribution != Distribution::shift) {
    if (!shared) {
      shared.emplace(causes, samples, TrialOptions{options.trials, options.seed, {}}, run);
      shared->prepare_sizes(options.limit_mm, run);
    }
    return Search(*shared, setting, causes, options, run).largest();
  }
  PieceTrials own(causes, samples, {options.trials, options.seed, first}, run);
  own.prepare_sizes(options.limit_mm, run);
  return Search(own, setting, causes, options, run).largest();
}

} // namespace

std::vector<std::optional<double>> allowed_errors(std::span<const Cause> causes,
                                                  std::span<const WallSample> samples,
                                                  const OutcomeOptions& options,
                                                  const RunContext& run) {
  std::vector<std::optional<double>> allowed(causes.size());
  std::vector<unsigned char> done(causes.size(), 0);
  std::optional<PieceTrials> shared;
  // Known shifts last: their draws are their own, and those of the others are given up before.
  for (const bool shifts : {false, true}) {
    if (shifts)
      shared.reset();
    for (std::size_t k = 0; k < causes.size(); ++k) {
      if (done[k] || causes[k].unit.empty() ||
          shifts != (causes[k].distribution == Distribution::shift))
        continue;
      const Setting setting(causes, k);
      const std::optional<double> value =
          options.basis == VerdictBasis::worst_case
              ? largest_in_worst_case({causes.begin(), causes.end()}, setting, samples, options,
                                      run)
              : largest_by_chance(causes, k, setting, samples, options, shared, run);
      setting.for_each([&](std::size_t i, double) {
        allowed[i] = value;
        done[i] = 1;
      });
    }
  }
  return allowed;
}

} // namespace leastwall
