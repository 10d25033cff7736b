// Worse errors never look better, and threads never change anything.
#include "budget/budget_support.h"

#include "budget/budget.h"

#include "report/words/cause_text.h"
#include <cmath>

#include <doctest/doctest.h>
#include <random>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

Setup full_setup() {
  Setup s;
  s.board.assumed_thickness_mm = 60;
  s.board.measured_thickness_mm = 60.1;
  s.board.thickness_error = {0.05, Knowledge::standard};
  s.board.variation_mm = 0.03;
  s.bed.flatness_mm = 0.1;
  s.flip.dowels = Dowels{0.03, 0.02, 120, Point2{0, 0}, true};
  s.flip.line_error = {0.02, Knowledge::limits};
  s.flip.out_of_square_mm_per_m = 0.1;
  for (SideSetup* side : {&s.inner, &s.outer}) {
    side->touch_off = {0.04, Knowledge::limits};
    side->bit.tip_height = {0.01, Knowledge::standard};
    side->bit.radius = {0.01, Knowledge::limits};
    side->bit.runout_mm = 0.02;
    side->roughing = Roughing{0.05, Uncertain{0.05, Knowledge::limits}};
    side->sanding_mm = 0.03;
  }
  return s;
}

std::vector<WallSample> half_bowl() {
  std::mt19937 random(8);
  std::uniform_real_distribution<double> any(-1, 1);
  std::vector<WallSample> samples;
  while (samples.size() < 9000) {
    const double x = any(random), y = any(random), r = x * x + y * y;
    if (r < 0.97) {
      const Vec3 n{x, y, -std::sqrt(1 - r)};
      samples.push_back({50.0 * n, n, 1.1 + 0.1 * any(random)});
    }
  }
  return samples;
}

// Every number of a budget, as bytes.
std::string bytes_of(const Budget& b) {
  std::string out;
  const auto put = [&](double v) { out.append(reinterpret_cast<const char*>(&v), sizeof v); };
  for (const double v : b.expected_mm)
    put(v);
  for (const double v : b.worst_mm)
    put(v);
  for (const double v : {b.least.expected_mm, b.least.worst_mm, b.least.spread_low_mm,
                         b.least.spread_high_mm, b.guaranteed_mm, b.chance->under_limit,
                         b.chance->under_limit_low, b.chance->under_limit_high,
                         b.chance->cut_through, b.pad->guaranteed_mm, b.pad->expected_mm})
    put(v);
  for (const CauseRow& row : b.causes) {
    put(row.at_thinnest_mm);
    put(row.share);
    put(row.largest_allowed_mm.value_or(-1));
    out += cause_text_with_side(row.id) + known_text(row);
  }
  for (const AdviceRow& row : b.advice) {
    put(row.gain_mm);
    out += row.change + row.cost + std::string(verdict_word(row.verdict));
  }
  return out + b.verdict_basis + std::string(verdict_word(b.verdict));
}

} // namespace

TEST_CASE("one, two or eight threads: the same bytes") {
  const std::vector<WallSample> samples = half_bowl();
  BudgetOptions options;
  options.trials = 2000;
  options.pad = WitnessPad{};
  std::string first;
  for (const std::size_t threads : {1u, 2u, 8u}) {
    const tbb::global_control control(tbb::global_control::max_allowed_parallelism, threads);
    const std::string bytes = bytes_of(compute_budget(full_setup(), samples, options, {}));
    if (first.empty())
      first = bytes;
    CHECK(bytes == first);
  }
  options.seed = 2;
  CHECK(bytes_of(compute_budget(full_setup(), samples, options, {})) != first);
}

TEST_CASE("a larger error never makes the worst case, the spread or the chance better") {
  const std::vector<WallSample> samples = half_bowl();
  BudgetOptions options;
  options.trials = 2000;
  options.with_advice = options.with_allowed = false;
  const auto run = [&](double scale) {
    Setup s = full_setup();
    s.board.measured_thickness_mm.reset();
    s.board.thickness_error.size_mm *= scale;
    s.board.variation_mm *= scale;
    *s.bed.flatness_mm *= scale;
    s.flip.dowels->clearance_1_mm *= scale;
    s.flip.dowels->clearance_2_mm *= scale;
    s.flip.line_error.size_mm *= scale;
    s.flip.out_of_square_mm_per_m *= scale;
    for (SideSetup* side : {&s.inner, &s.outer}) {
      side->touch_off.size_mm *= scale;
      side->bit.tip_height.size_mm *= scale;
      side->bit.radius.size_mm *= scale;
      side->bit.runout_mm *= scale;
      side->roughing->touch_off->size_mm *= scale;
    }
    return compute_budget(s, samples, options, {});
  };
  Budget before = run(0.2);
  for (const double scale : {0.5, 1.0, 1.5, 2.0, 3.0}) {
    const Budget now = run(scale);
    CHECK(now.least.worst_mm <= before.least.worst_mm + 1e-12);
    CHECK(now.least.spread_high_mm - now.least.spread_low_mm >=
          before.least.spread_high_mm - before.least.spread_low_mm - 1e-12);
    CHECK(now.chance->under_limit >= before.chance->under_limit);
    CHECK(now.chance->cut_through >= before.chance->cut_through);
    CHECK(now.guaranteed_mm <= before.guaranteed_mm);
    for (std::size_t i = 0; i < samples.size(); i += 100)
      CHECK(now.worst_mm[i] <= before.worst_mm[i] + 1e-12);
    before = now;
  }
  CHECK(before.chance->under_limit > 0.5);
}

TEST_CASE("shares add up to one, chances lie in their intervals, the worst is under the spread") {
  BudgetOptions options;
  options.with_advice = options.with_allowed = false;
  const Budget b = compute_budget(full_setup(), half_bowl(), options, {});
  double share = 0;
  for (const CauseRow& row : b.causes)
    share += row.share;
  CHECK(share == Approx(1));
  CHECK(b.chance->under_limit_low <= b.chance->under_limit);
  CHECK(b.chance->under_limit <= b.chance->under_limit_high);
  CHECK(b.chance->trials == 20000);
  CHECK(b.least.worst_mm <= b.least.spread_low_mm);
  CHECK(one_in(0.05) == "1 in 20");
  CHECK(one_in(0) == "none");
}
