#include "budget/trials/allowed_error.h"

#include "base/parallel.h"
#include "budget/effects/most_thinning.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <memory>
#include <optional>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 64;
constexpr double kBisected = kAllowedStep / 4;

using Status = std::vector<unsigned char>; // per trial: 1 fails

// The causes of one setting in one wall, and how their sizes follow its value.
class Setting {
 public:
  /// `asked`: a cause of this wall or of another one.
  Setting(std::span<const Cause> causes, const Cause& asked)
      : sizes_(sizes_of(causes)), value_(std::abs(asked.size)),
        most_(std::min(kLargestAsked, asked.most.value_or(kLargestAsked))),
        sign_(asked.size < 0 ? -1 : 1) {
    for (std::size_t k = 0; k < causes.size(); ++k)
      if (causes[k].id == asked.id ||
          (!asked.setting.empty() && causes[k].setting == asked.setting))
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

/// One wall's trials, readied for other sizes: with as many of its samples as those can bring under
/// the limit.
class WallTrials {
 public:
  /// A cause of another size: no sample changes by more, times the draw where that counts.
  struct Changed {
    std::size_t cause;
    double per_draw_mm;
    bool drawn;
  };

  WallTrials(const JudgedWall& wall, const OutcomeOptions& options, const Cause* freed)
      : causes_(wall.causes),
        limit_mm_(options.limit_mm + wall.over_mm), options_{options.trials, options.seed, {}} {
    for (std::size_t k = 0; freed && k < causes_.size(); ++k)
      if (causes_[k].id == freed->id)
        options_.freed_shift = k; // the same known shift in this wall
    if (!wall.thin_first)
      own_ = std::make_unique<const ThinFirst>(wall.samples);
    samples_ = own_ ? own_.get() : wall.thin_first;
  }

  std::span<const Cause> causes() const { return causes_; }
  double limit_mm() const { return limit_mm_; }

  /// Whether some sample of the trial, that holds with the sizes as stated, may come under the
  /// limit where each of `causes` has changed by so much: no sample changes by more than the bound
  /// times the draw. After with(), for as much as that covers.
  bool may_fail(std::size_t trial, std::span<const Changed> causes) const {
    if (spare_mm_.empty())
      return true;
    double most = kRounding_mm;
    for (const Changed& c : causes)
      most += c.per_draw_mm * (c.drawn ? draws_->unit(trial, c.cause) : 1);
    return most > spare_mm_[trial];
  }
  /// What changes of causes bring, for may_fail(). Absent where that is not known.
  std::optional<std::vector<Changed>> changed(std::span<const double> sizes) const {
    std::vector<Changed> found;
    for (std::size_t k = 0; k < causes_.size(); ++k) {
      const Cause& cause = causes_[k];
      const double change = std::abs(sizes[k] - cause.size);
      if (change == 0)
        continue;
      if (!cause.bound || cause.overcut || of_finishing(k))
        return std::nullopt;
      const bool drawn = !cause.field && cause.distribution != Distribution::shift;
      const double most = drawn ? 1 : cause.distribution.largest_draw();
      found.push_back({k, change * most * cause.bound(samples_->places()), drawn});
    }
    return found;
  }
  /// Readies may_fail(), after prepare_search() of the trials.
  void find_spare(const RunContext& run) {
    if (!spare_mm_.empty() || !trials_)
      return;
    spare_mm_.resize(options_.trials);
    for_blocks(options_.trials, kGrain, run, [&](std::size_t begin, std::size_t end) {
      for (std::size_t t = begin; t < end; ++t)
        spare_mm_[t] = trials_->least_as_stated(t, limit_mm_ + covered_mm_) - limit_mm_;
    });
  }

  /// Null where no sample can come under the limit with these sizes, in a trial or as expected.
  PieceTrials* with(std::span<const double> sizes, const RunContext& run) {
    if (reach_mm(sizes, largest_draws(causes_)) > covered_mm_) {
      if (!draws_)
        draws_ = draws_of(causes_, options_, run);
      if (const double reach = reach_mm(sizes, draws_->largest_units()); reach > covered_mm_)
        cover(2 * reach, run); // sizes are doubled
    }
    return trials_ ? &*trials_ : nullptr;
  }

 private:
  bool of_finishing(std::size_t k) const {
    return std::ranges::any_of(causes_, [k](const Cause& c) {
      return c.overcut && std::ranges::find(c.overcut->finishing, k) != c.overcut->finishing.end();
    });
  }

  /// No sample that is thicker than the limit by more is brought under it.
  double reach_mm(std::span<const double> sizes, std::span<const double> unit_draws) const {
    const std::optional<MostThinning> most =
        most_thinning(causes_, sizes, unit_draws, samples_->places());
    return most ? std::max(most->known_mm, most->drawn_mm) + kRounding_mm
                : std::numeric_limits<double>::infinity();
  }

  void cover(double reach_mm, const RunContext& run) {
    covered_mm_ = reach_mm;
    trials_.reset();
    spare_mm_.clear();
    thin_ = samples_->few() ? std::vector<WallSample>() : samples_->under(limit_mm_ + reach_mm);
    const bool all = samples_->few() || thin_.size() == samples_->all().size();
    if (all) {
      covered_mm_ = std::numeric_limits<double>::infinity();
      thin_ = {};
    }
    if (!all && thin_.empty())
      return;
    trials_.emplace(causes_, all ? samples_->all() : thin_, options_, draws_, run);
    trials_->prepare_sizes(limit_mm_, run);
  }

  std::span<const Cause> causes_;
  double limit_mm_;
  TrialOptions options_;
  std::unique_ptr<const ThinFirst> own_;
  const ThinFirst* samples_;
  std::shared_ptr<const TrialDraws> draws_;
  double covered_mm_ = -1; ///< over the limit: all samples up to there are in `trials_`
  std::vector<WallSample> thin_;
  std::optional<PieceTrials> trials_;
  std::vector<double> spare_mm_; ///< over the limit, of each trial with the sizes as stated
};

std::vector<WallTrials> trials_of(std::span<const JudgedWall> walls, const OutcomeOptions& options,
                                  const Cause* freed) {
  std::vector<WallTrials> all;
  all.reserve(walls.size()); // what trials refer to stays in place
  for (const JudgedWall& wall : walls)
    all.emplace_back(wall, options, freed);
  return all;
}

// One setting's value against the trials of all walls.
class Search {
 public:
  Search(std::vector<WallTrials>& walls, const Cause& asked, const OutcomeOptions& options,
         const RunContext& run)
      : walls_(walls), options_(options), run_(run) {
    for (const WallTrials& wall : walls)
      settings_.emplace_back(wall.causes(), asked);
    most_ = first().most();
  }

  std::optional<double> largest() {
    if (!passes(0, nullptr, nullptr, low_))
      return std::nullopt;
    double low = 0, high = std::min(most_, std::max(0.1, 2 * first().value()));
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
    return first().signed_value(rounded_towards_0(
        high, [&](double value) { return passes(value, nullptr, nullptr, middle); }));
  }

 private:
  /// Whether no trial can fail there and what is expected holds: nothing needs to be looked at.
  bool certainly_holds(std::size_t w, const PieceTrials& trials,
                       const std::vector<double>& sizes) const {
    double used = 0;
    settings_[w].for_each([&](std::size_t k, double) {
      const double change = std::abs(sizes[k] - walls_[w].causes()[k].size);
      const double room = trials.room(k);
      used += change == 0 && room > 0 ? 0.0
              : room > 0              ? change / room
                                      : std::numeric_limits<double>::infinity();
    });
    // A wall without the cause is as stated.
    return used <= 1 && trials.holds_as_stated();
  }

  const Setting& first() const { return settings_.front(); }

  // Fills `out` for every trial; those that hold at both neighbouring values are not tried again.
  bool passes(double value, const Status* below, const Status* above, Status& out) {
    const std::size_t trials = options_.trials;
    const auto accepted =
        static_cast<std::ptrdiff_t>(accepted_fails(options_.accepted_chance, trials));
    const auto is_asked = [&](std::size_t t) { return !below || (*below)[t] || (*above)[t]; };
    out.assign(trials, 0);
    for (std::size_t w = 0; w < walls_.size(); ++w) {
      const std::vector<double> sizes = settings_[w].sizes_at(value);
      PieceTrials* asked = walls_[w].with(sizes, run_);
      if (asked == nullptr)
        continue;
      PieceTrials& wall = *asked;
      if (value > valid_up_to(wall, settings_[w], walls_[w].causes())) {
        out.assign(trials, 1); // not known: as if it failed
        return false;
      }
      if (certainly_holds(w, wall, sizes))
        continue;
      wall.prepare_search(run_);
      const auto changed = walls_[w].changed(sizes);
      if (changed)
        walls_[w].find_spare(run_);
      std::vector<std::size_t> open;
      for (std::size_t t = 0; t < trials; ++t)
        if (out[t] == 0 && is_asked(t) && (!changed || walls_[w].may_fail(t, *changed)))
          open.push_back(t);
      for_blocks(open.size(), kGrain, run_, [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i)
          out[open[i]] = wall.fails(open[i], sizes) ? 1 : 0;
      });
      const double expected = wall.least_expected(sizes);
      const bool passed = expected > 0 && expected >= walls_[w].limit_mm() &&
                          std::count(out.begin(), out.end(), 1) <= accepted;
      if (!passed) {
        // The other walls are not looked at: no trial is known to hold there.
        for (std::size_t t = 0; t < trials && w + 1 < walls_.size(); ++t)
          out[t] = is_asked(t) ? 1 : 0;
        return false;
      }
    }
    return true;
  }

  std::vector<WallTrials>& walls_;
  std::vector<Setting> settings_; // one per wall
  const OutcomeOptions& options_;
  const RunContext& run_;
  double most_ = std::numeric_limits<double>::infinity();
  Status low_, high_;
};

std::optional<double> largest_in_worst_case(std::span<const JudgedWall> walls, const Cause& asked,
                                            const OutcomeOptions& options, const RunContext& run) {
  std::vector<std::vector<Cause>> causes;
  std::vector<Setting> settings;
  std::vector<JudgedWall> changed(walls.begin(), walls.end());
  for (const JudgedWall& wall : walls) {
    causes.emplace_back(wall.causes.begin(), wall.causes.end());
    settings.emplace_back(wall.causes, asked);
  }
  const auto passes = [&](double value) {
    for (std::size_t w = 0; w < walls.size(); ++w) {
      const std::vector<double> sizes = settings[w].sizes_at(value);
      for (std::size_t k = 0; k < sizes.size(); ++k)
        causes[w][k].size = sizes[k];
      changed[w].causes = causes[w];
    }
    return outcome_of(changed, options, run).verdict == Verdict::safe;
  };
  const Setting& setting = settings.front();
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

} // namespace

std::vector<std::optional<double>> allowed_errors(std::span<const JudgedWall> walls,
                                                  const OutcomeOptions& options,
                                                  const RunContext& run) {
  const std::span<const Cause> causes = walls.front().causes;
  std::vector<std::optional<double>> allowed(causes.size());
  std::vector<unsigned char> done(causes.size(), 0);
  std::optional<std::vector<WallTrials>> shared;
  const auto largest_by_chance = [&](const Cause& asked) {
    if (asked.distribution == Distribution::shift) {
      std::vector<WallTrials> own = trials_of(walls, options, &asked);
      return Search(own, asked, options, run).largest();
    }
    if (!shared)
      shared = trials_of(walls, options, nullptr);
    return Search(*shared, asked, options, run).largest();
  };
  // Known shifts last: their draws are their own, and those of the others are given up before.
  for (const bool shifts : {false, true}) {
    if (shifts)
      shared.reset();
    for (std::size_t k = 0; k < causes.size(); ++k) {
      if (done[k] || causes[k].unit.empty() ||
          shifts != (causes[k].distribution == Distribution::shift))
        continue;
      const std::optional<double> value =
          options.basis == VerdictBasis::worst_case
              ? largest_in_worst_case(walls, causes[k], options, run)
              : largest_by_chance(causes[k]);
      Setting(causes, causes[k]).for_each([&](std::size_t i, double) {
        allowed[i] = value;
        done[i] = 1;
      });
    }
  }
  return allowed;
}

std::vector<std::optional<double>> allowed_errors(std::span<const Cause> causes,
                                                  std::span<const WallSample> samples,
                                                  const OutcomeOptions& options,
                                                  const RunContext& run) {
  const JudgedWall wall{causes, samples};
  return allowed_errors(std::span(&wall, 1), options, run);
}

} // namespace leastwall
