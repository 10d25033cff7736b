#include "budget/budget.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "base/parallel.h"
#include "budget/advice/advice.h"
#include "budget/advice/resurface.h"
#include "budget/advice/rocking.h"
#include "budget/chance_row.h"
#include "budget/effects/spread.h"
#include "budget/fill_allowed.h"
#include "budget/trials/place_spread.h"
#include "budget/trials/tail_of_wall.h"
#include "budget/trials/trial_memory.h"
#include "causes/causes.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 2048;

void require_usable(std::span<const WallSample> samples, const BudgetOptions& options) {
  if (samples.empty())
    throw InputError("no wall was measured: the skin and the pocket have no place in common");
  if (!std::isfinite(options.limit_mm) || options.limit_mm < 0)
    throw InputError(fmt::format("the limit must be 0 or more mm, not {}", options.limit_mm));
  if (!(options.accepted_chance >= 0 && options.accepted_chance < 1))
    throw InputError("the accepted chance must be from 0 to under 1, e.g. 0.05 for 1 in 20");
  if (options.trials < 1 || options.trials > kMaxTrials)
    throw InputError(
        fmt::format("the number of trials must be 1 to {}, not {}", kMaxTrials, options.trials));
}

// The rectangle around all samples stands in for a board that was not stated.
Setup with_footprint(const Setup& setup, std::span<const WallSample> samples,
                     std::vector<Assumption>& assumptions) {
  if (setup.board.footprint)
    return setup;
  Setup filled = setup;
  Footprint f{{samples[0].at.x, samples[0].at.y}, {samples[0].at.x, samples[0].at.y}};
  for (const WallSample& s : samples)
    f.add({s.at.x, s.at.y});
  filled.board.footprint = f;
  if (setup.bed.readings || setup.board.resin_cup_mm != 0)
    note(assumptions, fmt::format("the board is as large as the measured skin, x {:.1f} to "
                                  "{:.1f}, y {:.1f} to {:.1f} mm",
                                  f.low.x, f.high.x, f.low.y, f.high.y));
  return filled;
}

/// From the least wall of each trial.
ChanceRow chance_of(std::span<const double> least, double limit_mm) {
  const auto under =
      std::ranges::count_if(least, [limit_mm](double wall) { return wall < limit_mm; });
  const auto through = std::ranges::count_if(least, [](double wall) { return wall <= 0; });
  return chance_row(static_cast<std::uint64_t>(under), static_cast<std::uint64_t>(through),
                    least.size());
}

void fill_samples(std::span<const Cause> causes, std::span<const WallSample> samples,
                  const RunContext& run, Budget& out) {
  out.expected_mm.resize(samples.size());
  out.worst_mm.resize(samples.size());
  out.worst_cause.resize(samples.size());
  for_blocks(samples.size(), kGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<Effect> effects(causes.size());
    for (std::size_t i = begin; i < end; ++i) {
      effects_at(causes, samples[i], effects);
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

void fill_table(std::span<const Cause> causes, const WallSample& thinnest, Budget& out) {
  std::vector<Effect> effects(causes.size());
  effects_at(causes, thinnest, effects);
  const double u = sum_of(effects).u;
  for (std::size_t k = 0; k < causes.size(); ++k) {
    CauseRow row;
    row.id = causes[k].id;
    row.distribution = causes[k].distribution;
    row.size = causes[k].size;
    row.unit = causes[k].unit;
    if (causes[k].overcut)
      row.allowance_mm = causes[k].overcut->allowance_mm;
    row.key = causes[k].setting;
    row.at_thinnest_mm = row.is_shift() ? effects[k].shift : effects[k].half_width;
    row.share = u > 0 ? effects[k].u * effects[k].u / (u * u) : 0;
    out.causes.push_back(row);
  }
}

} // namespace

std::string one_in(double chance) {
  return chance > 0 ? fmt::format("1 in {:.0f}", 1 / chance) : std::string("none");
}

Budget compute_budget(const Setup& stated, std::span<const WallSample> samples,
                      const BudgetOptions& options, const RunContext& run) {
  require_usable(samples, options);
  Budget out;
  const Setup setup = with_footprint(stated, samples, out.assumptions);
  const std::vector<Cause> causes = causes_of(setup, out.assumptions);
  run.progress("budget", 0);
  fill_samples(causes, samples, run, out);

  out.least.worst_mm = out.worst_mm[0];
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (!std::isfinite(out.expected_mm[i]) || !std::isfinite(out.worst_mm[i]))
      throw InputError("a wall or an error in the set-up is not a number");
    if (out.expected_mm[i] < out.expected_mm[out.least.sample])
      out.least.sample = i;
    out.least.worst_mm = std::min(out.least.worst_mm, out.worst_mm[i]);
  }
  out.least.expected_mm = out.expected_mm[out.least.sample];
  const WallSample& thinnest = samples[out.least.sample];
  fill_table(causes, thinnest, out);

  const OutcomeOptions outcome_options{options.limit_mm, options.basis, options.accepted_chance,
                                       static_cast<std::size_t>(options.trials), options.seed};
  run.progress("trials of the whole piece", 0.2);
  const std::size_t accepted = accepted_fails(options.accepted_chance, outcome_options.trials);
  const ThinFirst thin_first(samples);
  PieceTrials::Tail tail =
      tail_of_wall(causes, thin_first, {outcome_options.trials, options.seed, {}}, accepted,
                   options.limit_mm, run);
  const WallSpread spread =
      spread_at(causes, thinnest, {outcome_options.trials, options.seed, {}}, run);
  out.least.spread_low_mm = spread.low_mm;
  out.least.spread_high_mm = spread.high_mm;
  out.chance = chance_of(tail.least, options.limit_mm);
  out.trial_least_mm = std::move(tail.least);
  const bool by_chance = options.basis == VerdictBasis::chance;
  out.guaranteed_mm = by_chance ? tail.guaranteed_mm : out.least.worst_mm;
  out.verdict =
      judge(out.least.expected_mm, options.limit_mm, out.guaranteed_mm >= options.limit_mm);
  out.verdict_basis =
      by_chance ? fmt::format("chance of a wall under the limit in {} trials of the whole piece, "
                              "accepted: {}",
                              options.trials, one_in(options.accepted_chance))
                : "worst case: every error at its limit at once";

  if (options.with_allowed) {
    run.progress("how good each step must be", 0.4);
    const MeasuredWall wall{{causes, samples, 0, &thin_first}, options.measured_to_mm};
    fill_allowed(std::span(&wall, 1), outcome_options, run, out.causes);
  }
  const Outcome now{out.least.expected_mm, out.least.worst_mm, out.guaranteed_mm, out.verdict};
  out.warnings = rocking_notices(setup, samples, outcome_options, now, run);
  if (options.with_advice) {
    run.progress("advice", 0.7);
    const WallOfJob alone{setup, samples, 0, &thin_first};
    const std::span<const WallOfJob> job(&alone, 1);
    std::vector<Tried> tried;
    if (out.verdict != Verdict::safe) {
      tried = try_alternatives(job, samples, outcome_options, {thinnest.at.x, thinnest.at.y},
                               stated.board.footprint.has_value(), run);
      out.advice = advice_for(tried, outcome_options, now, options.units);
    }
    // A handful of samples on one line has no footprint to surface under.
    const Footprint& f = *setup.board.footprint;
    if (f.high.x > f.low.x && f.high.y > f.low.y)
      out.resurface = judge_resurfacing(job, outcome_options, now, tried, run);
  }
  if (options.pad) {
    out.pad = witness_pad(setup, causes, samples, thinnest, *options.pad, outcome_options, run);
    out.warnings.insert(out.warnings.end(), out.pad->notices.begin(), out.pad->notices.end());
  }
  out.cause_model = causes;
  run.progress("budget", 1);
  return out;
}

} // namespace leastwall
