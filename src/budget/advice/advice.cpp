#include "budget/advice/advice.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "budget/advice/alternatives.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>

namespace leastwall {
namespace {

struct Ranked {
  AdviceRow row;
  Cost cost = Cost::free;
};

bool safe(const Ranked& r) {
  return r.row.verdict == Verdict::safe;
}

// How much thicker the model's wall must be, rounded up to 0.01 mm.
std::optional<Ranked> thicker_model(const OutcomeOptions& options, const Outcome& now) {
  const double least = std::min(now.guaranteed_mm, now.least_expected_mm);
  const double more = std::ceil((options.limit_mm - least) * 100 - 1e-9) / 100;
  if (!(more > 0))
    return std::nullopt;
  Ranked r;
  r.cost = Cost::model;
  r.row.change = fmt::format("Make the wall {:.2f} mm thicker in the model", more);
  r.row.gain_mm = more;
  r.row.verdict = judge(now.least_expected_mm + more, options.limit_mm,
                        now.guaranteed_mm + more >= options.limit_mm - 1e-12);
  return r;
}

} // namespace

std::vector<Tried> try_alternatives(std::span<const WallOfJob> walls,
                                    std::span<const WallSample> skin, const OutcomeOptions& options,
                                    Point2 thinnest, bool board_stated, const RunContext& run) {
  std::vector<Tried> tried;
  const Setup& setup = walls.front().setup;
  for (Alternative& alternative : alternatives_of(setup, thinnest, skin, board_stated)) {
    try {
      const Outcome outcome = outcome_of(with_change(walls, alternative.setup), options, run);
      tried.push_back({std::move(alternative), outcome});
    } catch (const InputError&) {
      continue; // the other way would need a value that was not stated
    }
  }
  return tried;
}

const Tried* best_free_change(std::span<const Tried> tried, const Outcome& now) {
  const Tried* best = nullptr;
  for (const Tried& t : tried) {
    if (t.alternative.cost != Cost::free ||
        t.outcome.guaranteed_mm - now.guaranteed_mm < kSmallestGain)
      continue;
    if (!best || t.outcome.verdict < best->outcome.verdict ||
        (t.outcome.verdict == best->outcome.verdict &&
         t.outcome.guaranteed_mm > best->outcome.guaranteed_mm))
      best = &t;
  }
  return best;
}

std::vector<AdviceRow> advice_for(std::span<const Tried> tried, const OutcomeOptions& options,
                                  const Outcome& now, LengthUnit units) {
  const Tried* free = best_free_change(tried, now);
  const Verdict without = free ? std::min(free->outcome.verdict, now.verdict) : now.verdict;
  std::vector<Ranked> ranked;
  for (const Tried& t : tried) {
    Ranked r;
    r.cost = t.alternative.cost;
    r.row.change = t.alternative.change;
    r.row.gain_mm = t.outcome.guaranteed_mm - now.guaranteed_mm;
    r.row.verdict = t.outcome.verdict;
    for (const JobChange& change : t.alternative.set)
      r.row.set.push_back(in_unit(change, units));
    if (r.row.gain_mm >= kSmallestGain &&
        (!t.alternative.only_if_needed || t.outcome.verdict < without))
      ranked.push_back(std::move(r));
  }
  if (const std::optional<Ranked> model = thicker_model(options, now))
    ranked.push_back(*model);
  std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& p, const Ranked& q) {
    if (safe(p) != safe(q))
      return safe(p);
    if (safe(p) && p.cost != q.cost)
      return p.cost < q.cost;
    return p.row.gain_mm > q.row.gain_mm;
  });
  std::vector<AdviceRow> rows;
  for (Ranked& r : ranked) {
    r.row.cost = cost_word(r.cost);
    rows.push_back(std::move(r.row));
  }
  return rows;
}

} // namespace leastwall
