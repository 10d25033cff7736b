#include "budget/whole_job.h"

#include "budget/advice/advice.h"
#include "budget/advice/resurface.h"
#include "budget/chance_row.h"
#include "budget/fill_allowed.h"

#include <algorithm>
#include <limits>
#include <list>

namespace leastwall {
namespace {

double to_spare(const BudgetOfWall& wall) {
  return wall.budget->least.expected_mm - wall.limit_mm;
}

bool worse(const BudgetOfWall& a, const BudgetOfWall& b) {
  if (a.budget->verdict != b.budget->verdict)
    return a.budget->verdict > b.budget->verdict;
  if (a.budget->chance->under_limit != b.budget->chance->under_limit)
    return a.budget->chance->under_limit > b.budget->chance->under_limit;
  return to_spare(a) < to_spare(b);
}

ChanceRow chance_of(std::span<const BudgetOfWall> walls) {
  const std::size_t trials = walls.front().budget->trial_least_mm.size();
  std::uint64_t under = 0, through = 0;
  for (std::size_t t = 0; t < trials; ++t) {
    bool is_under = false, is_through = false;
    for (const BudgetOfWall& wall : walls) {
      const double least = wall.budget->trial_least_mm[t];
      is_under = is_under || least < wall.limit_mm;
      is_through = is_through || least <= 0;
    }
    under += is_under ? 1 : 0;
    through += is_through ? 1 : 0;
  }
  return chance_row(under, through, trials);
}

/// What is expected and what can be counted on, each wall less what its limit is over `limit_mm`.
Outcome outcome_now(std::span<const BudgetOfWall> walls, double limit_mm,
                    const OutcomeOptions& options) {
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  Outcome now;
  now.least_expected_mm = now.least_worst_mm = kInfinity;
  std::vector<double> least(options.trials, kInfinity);
  for (const BudgetOfWall& wall : walls) {
    const double over = wall.limit_mm - limit_mm;
    now.least_expected_mm = std::min(now.least_expected_mm, wall.budget->least.expected_mm - over);
    now.least_worst_mm = std::min(now.least_worst_mm, wall.budget->least.worst_mm - over);
    lessen(least, wall.budget->trial_least_mm, over);
  }
  now.guaranteed_mm = options.basis == VerdictBasis::chance
                          ? held_by_all_but(accepted_fails(options.accepted_chance, options.trials),
                                            std::move(least))
                          : now.least_worst_mm;
  now.verdict = std::ranges::max(walls, {}, [](const BudgetOfWall& w) {
                  return w.budget->verdict;
                }).budget->verdict;
  if (now.verdict == Verdict::safe && now.guaranteed_mm < limit_mm)
    now.verdict = Verdict::at_risk; // each holds, but too often one of them does not
  return now;
}

} // namespace

JobBudget judge_job(std::span<const BudgetOfWall> walls,
                    const std::function<std::vector<WallSample>()>& skin,
                    const BudgetOptions& options, bool board_stated, const RunContext& run) {
  JobBudget out;
  const auto governing = std::ranges::min_element(walls, worse);
  out.governing = static_cast<std::size_t>(governing - walls.begin());
  out.chance = chance_of(walls);
  const double limit_mm = governing->limit_mm;
  const OutcomeOptions asked{limit_mm, options.basis, options.accepted_chance,
                             static_cast<std::size_t>(options.trials), options.seed};
  const Outcome now = outcome_now(walls, limit_mm, asked);
  out.verdict = now.verdict;

  std::vector<const BudgetOfWall*> order{&*governing}; // the governing one first
  for (const BudgetOfWall& wall : walls)
    if (&wall != &*governing)
      order.push_back(&wall);
  std::list<ThinFirst> thin_first;
  std::vector<WallOfJob> job;
  std::vector<MeasuredWall> measured;
  for (const BudgetOfWall* wall : order) {
    const double over = wall->limit_mm - limit_mm;
    const ThinFirst* samples = &thin_first.emplace_back(wall->samples);
    job.push_back({*wall->setup, wall->samples, over, samples});
    measured.push_back(
        {{wall->budget->cause_model, wall->samples, over, samples}, wall->measured_to_mm});
  }
  out.causes = governing->budget->causes;
  if (options.with_allowed) {
    run.progress("how good each step must be", 0.92);
    fill_allowed(measured, asked, run, out.causes);
  }
  if (!options.with_advice)
    return out;
  run.progress("advice", 0.95);
  std::vector<Tried> tried;
  if (out.verdict != Verdict::safe) {
    const Vec3 thinnest = governing->samples[governing->budget->least.sample].at;
    if (through_board(*governing->setup))
      tried = try_alternatives(job, skin(), asked, {thinnest.x, thinnest.y}, board_stated, run);
    out.advice = advice_for(tried, asked, now, options.units);
  }
  out.resurface = judge_resurfacing(job, asked, now, tried, run);
  return out;
}

} // namespace leastwall
