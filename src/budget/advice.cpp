#include "budget/advice.h"

#include "base/errors.h"
#include "budget/alternatives.h"
#include "setup/causes.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>

namespace leastwall {
namespace {

struct Ranked {
  AdviceRow row;
  Cost cost = Cost::free;
  bool only_if_needed = false;
};

bool safe(const Ranked& r) {
  return r.row.verdict == Verdict::safe;
}

// How much thicker the model's wall must be, rounded up to 0.01 mm.
std::optional<Ranked> thicker_model(const OutcomeOptions& options, const Outcome& now) {
  const double least = std::min(now.holding_mm, now.least_expected_mm);
  const double more = std::ceil((options.limit_mm - least) * 100 - 1e-9) / 100;
  if (!(more > 0))
    return std::nullopt;
  Ranked r;
  r.cost = Cost::model;
  r.row.change = fmt::format("Make the wall {:.2f} mm thicker in the model", more);
  r.row.gain_mm = more;
  r.row.verdict = judge(now.least_expected_mm + more, options.limit_mm,
                        now.holding_mm + more >= options.limit_mm - 1e-12);
  return r;
}

} // namespace

std::vector<AdviceRow> advice_for(const Setup& setup, std::span<const WallSample> samples,
                                  const OutcomeOptions& options, const Outcome& now,
                                  Point2 thinnest, const RunContext& run) {
  std::vector<Ranked> ranked;
  for (Alternative& alternative : alternatives_of(setup, thinnest)) {
    Ranked r;
    std::vector<std::string> assumptions;
    std::vector<Cause> causes;
    try {
      causes = causes_of(alternative.setup, assumptions);
    } catch (const InputError&) {
      continue; // the other way would need a value that was not stated
    }
    const Outcome outcome = outcome_of(causes, samples, options, run);
    r.cost = alternative.cost;
    r.only_if_needed = alternative.only_if_needed;
    r.row.change = alternative.change;
    r.row.gain_mm = outcome.holding_mm - now.holding_mm;
    r.row.verdict = outcome.verdict;
    if (r.row.gain_mm >= kSmallestGain)
      ranked.push_back(std::move(r));
  }
  const bool free_passes = std::any_of(ranked.begin(), ranked.end(), [](const Ranked& r) {
    return safe(r) && r.cost == Cost::free;
  });
  std::erase_if(ranked,
                [&](const Ranked& r) { return r.only_if_needed && (free_passes || !safe(r)); });
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

std::string advice_sentence(const AdviceRow& row) {
  return fmt::format("{}: {:+.2f} mm at the thinnest place", row.change, row.gain_mm);
}

} // namespace leastwall
