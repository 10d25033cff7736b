// Allowed errors, advice and the witness pad: what they promise is what a new computation gives.
#include "budget/budget_support.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "budget/advice/advice.h"
#include "budget/advice/alternatives.h"
#include "budget/budget.h"
#include "budget/effects/reach.h"
#include "budget/trials/allowed_error.h"
#include "causes/causes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

// A flat floor with one thin place at (10, 5).
std::vector<WallSample> floor_with(double wall) {
  std::vector<WallSample> samples;
  for (int i = -4; i <= 4; ++i)
    for (int j = -3; j <= 3; ++j)
      samples.push_back(flat_sample(10 * i, 10 * j, wall + 0.4));
  samples.push_back(flat_sample(10, 5, wall));
  return samples;
}

Setup bed_both(double measured) {
  Setup s;
  s.inner.zero = s.outer.zero = ZeroFrom::bed;
  s.board.assumed_thickness_mm = 20;
  s.board.measured_thickness_mm = measured;
  s.inner.touch_off = s.outer.touch_off = {0.03, Knowledge::limits};
  return s;
}

} // namespace

TEST_CASE("largest allowed error: closed forms") {
  OutcomeOptions options;
  options.limit_mm = 0.8;
  const std::vector<WallSample> samples = {flat_sample(0, 0, 0.89)};
  // One rectangle +-a, margin 0.09: the chance of less is (1 - 0.09/a)/2, 5 % at a = 0.1.
  std::vector<Cause> causes = {plain_cause("a", Distribution::rectangle, 0.04),
                               plain_cause("none", Distribution::rectangle, 0.04, 0)};
  auto allowed = allowed_errors(causes, samples, options, {});
  REQUIRE(allowed[0]);
  CHECK(std::abs(*allowed[0] - 0.1) < 0.002);
  CHECK(allowed[1] == kLargestAsked); // does nothing here
  // By worst case the margin itself.
  options.basis = VerdictBasis::worst_case;
  allowed = allowed_errors(causes, samples, options, {});
  CHECK(std::abs(*allowed[0] - 0.09) <= 1.001 * kAllowedStep);
  options.basis = VerdictBasis::chance;
  // Known shift of either sign: towards thinner up to the margin, towards thicker without end.
  causes = {plain_cause("s", Distribution::shift, -0.02)};
  CHECK(std::abs(*allowed_errors(causes, samples, options, {})[0] + 0.09) <= 1.001 * kAllowedStep);
  causes[0].size = 0.02;
  CHECK(allowed_errors(causes, samples, options, {})[0] == kLargestAsked);
  causes[0].unit.clear(); // a shape has no size
  CHECK_FALSE(allowed_errors(causes, samples, options, {})[0]);
  // Always thinner by 0..s: 5 % lie beyond 0.95 s, but its middle counts as expected: s/2 <= 0.09.
  causes = {plain_cause("o", Distribution::half_uniform, 0.02, -1)};
  CHECK(std::abs(*allowed_errors(causes, samples, options, {})[0] - 0.09 / 0.95) < 0.002);
  // Two causes, one too large by itself: not by the other alone.
  causes = {plain_cause("a", Distribution::rectangle, 0.3),
            plain_cause("b", Distribution::rectangle, 0.01)};
  allowed = allowed_errors(causes, samples, options, {});
  CHECK(allowed[0]);
  CHECK_FALSE(allowed[1]);
}

TEST_CASE("an allowed error is safe, a little more is not, on a whole piece with every cause") {
  Setup s;
  s.board.assumed_thickness_mm = 20;
  s.board.thickness_error = {0.05, Knowledge::limits};
  s.inner.touch_off = {0.02, Knowledge::standard};
  s.outer.touch_off = {0.03, Knowledge::limits};
  s.outer.sanding_mm = 0.03;
  s.inner.roughing = Roughing{0.05, Uncertain{0.04, Knowledge::limits}};
  s.bed.flatness_mm = 0.05;
  s.flip.dowels = Dowels{0.02, 0.02, 100, Point2{0, 0}, true};
  std::vector<WallSample> samples;
  std::mt19937 random(2);
  std::uniform_real_distribution<double> any(-1, 1);
  for (int i = 0; i < 3000; ++i) {
    const double x = any(random), y = any(random), r = std::hypot(x, y);
    if (r < 0.95)
      samples.push_back({{40 * x, 40 * y, -10}, {x, y, -std::sqrt(1 - r * r)}, 1.0 + 0.2 * r});
  }
  std::vector<Assumption> assumptions;
  const std::vector<Cause> causes = causes_of(s, assumptions);
  OutcomeOptions options;
  options.limit_mm = 0.85;
  options.trials = 4000;
  REQUIRE(outcome_of(causes, samples, options, {}).verdict == Verdict::safe);
  const auto allowed = allowed_errors(causes, samples, options, {});
  for (std::size_t k = 0; k < causes.size(); ++k) {
    REQUIRE(allowed[k]);
    CHECK(std::abs(*allowed[k]) >= std::abs(causes[k].size) - kAllowedStep);
    const auto with = [&](double value) { // every cause of the same key
      std::vector<Cause> changed = causes;
      for (Cause& c : changed)
        if (c.setting == causes[k].setting)
          c.size = value;
      return outcome_of(changed, samples, options, {}).verdict;
    };
    CHECK(with(*allowed[k]) == Verdict::safe);
    if (*allowed[k] < 1)
      CHECK(with(*allowed[k] + 0.002) != Verdict::safe);
  }
}

TEST_CASE("advice: the zero pairs are worth what the table says, free ones first") {
  const std::vector<WallSample> samples = floor_with(0.95);
  const Setup s = bed_both(20.3); // bed / bed: -0.3
  BudgetOptions options;
  options.limit_mm = 0.8;
  const Budget b = compute_budget(s, samples, options, {});
  CHECK(b.verdict == Verdict::thin);
  CHECK(b.least.expected_mm == Approx(0.65));
  REQUIRE(b.advice.size() >= 4);
  // Where the board lies was not stated, and it does not matter here.
  CHECK(b.advice[0].change ==
        "Zero both sides on top of the board, touched on uncut wood outside the part");
  CHECK(b.advice[0].gain_mm == Approx(0.6).epsilon(1e-9)); // -tau to +tau
  CHECK(b.advice[0].verdict == Verdict::safe);
  CHECK(b.advice[0].cost == "free");
  REQUIRE(b.advice[0].set.size() == 2);
  CHECK(b.advice[0].set[1].key == "side_b.zero");
  CHECK(b.advice[1].gain_mm == Approx(0.3).epsilon(1e-9));
  bool seen_work = false, seen_model = false;
  for (const AdviceRow& row : b.advice) {
    seen_work = seen_work || row.cost != "free";
    seen_model = seen_model || row.cost == "model";
    if (row.verdict == Verdict::safe && row.cost == "free")
      CHECK_FALSE(seen_work);
    CHECK(row.change.find("Resurface") == std::string::npos); // not needed
  }
  CHECK(seen_model);
  // A board that is too thin turns it round: bed / bed is the best already.
  const Budget thin = compute_budget(bed_both(19.7), samples, options, {});
  CHECK(thin.verdict == Verdict::safe);
  CHECK(thin.advice.empty());
}

TEST_CASE("advice: a thicker model is just thick enough") {
  std::vector<WallSample> samples = floor_with(0.82);
  Setup s = bed_both(20);
  s.inner.touch_off = s.outer.touch_off = {0.06, Knowledge::limits};
  BudgetOptions options;
  options.limit_mm = 0.8;
  const Budget b = compute_budget(s, samples, options, {});
  REQUIRE(b.verdict == Verdict::at_risk);
  const AdviceRow* model = nullptr;
  for (const AdviceRow& row : b.advice)
    if (row.cost == "model")
      model = &row;
  REQUIRE(model);
  CHECK(model->verdict == Verdict::safe);
  for (WallSample& w : samples)
    w.wall_mm += model->gain_mm;
  CHECK(compute_budget(s, samples, options, {}).verdict == Verdict::safe);
  for (WallSample& w : samples)
    w.wall_mm -= 0.015;
  CHECK(compute_budget(s, samples, options, {}).verdict == Verdict::at_risk);
}

TEST_CASE("alternatives: each is offered when it changes something, and changes what it says") {
  Setup s;
  s.board.footprint = Footprint{{-50, -50}, {50, 50}};
  const auto count = [&](const char* words) {
    int n = 0;
    for (const Alternative& a : alternatives_of(s, {10, 5}, {}))
      n += a.change.find(words) != std::string::npos ? 1 : 0;
    return n;
  };
  CHECK(count("Zero") == 3);
  CHECK(count("thinnest place") == 0); // it does not matter where
  CHECK(count("about a line along x instead of y, at y 0.0") == 1);
  CHECK(count("twice as well") == 0);
  CHECK(count("same point of the part") == 0);
  s.inner.touch_point = Point2{-40, 0};
  s.outer.touch_off = {0.05, Knowledge::limits};
  s.inner.bit.zero = BitZero::tool_setter;
  s.inner.roughing = Roughing{0.2, {}};
  s.flip.line = FlipLine::along_x;
  s.flip.dowels = Dowels{0.02, 0.03, 100, Point2{0, 0}, true};
  s.board.variation_mm = 0.1;
  s.board.assumed_thickness_mm = 20;
  s.board.measured_thickness_mm = 20.2;
  s.bed.flatness_mm = 0.2;
  CHECK(count("same point of the part") == 2);
  CHECK(count("thinnest place, x 10.0 y 5.0") == 1);
  CHECK(count("about a line along y") == 1);
  s.flip.dowels->spacing_mm = 70;
  CHECK(count("dowels") == 1); // half the play
  CHECK(count("dowels 84.0 mm apart") == 0);
  CHECK(count("twice as well, within 0.025 mm") == 1);
  CHECK(count("tool setter") == 1);
  CHECK(count("Leave 0.30 mm for finishing on side A") == 1);
  CHECK(count("half the play, 0.015 mm") == 1);
  CHECK(count("Measure the board") == 1);
  CHECK(count("thickness as measured, 20.200 mm") == 1);
  CHECK(count("Resurface") == 1);
  for (const Alternative& a : alternatives_of(s, {10, 5}, {}))
    if (a.change.find("Resurface") != std::string::npos) {
      CHECK(a.only_if_needed);
      CHECK(a.setup.bed.flatness_mm == 0.05);
      CHECK(a.cost == Cost::work);
    }
  // Programs for the thickness as measured: every thickness that a program states goes with it.
  s.outer.assumed_thickness_mm = 20.1;
  for (const Alternative& a : alternatives_of(s, {10, 5}, {}))
    if (a.change.find("as measured") != std::string::npos) {
      CHECK(a.setup.board.assumed_thickness_mm == 20.2);
      CHECK_FALSE(a.setup.inner.assumed_thickness_mm.has_value());
      CHECK(a.setup.outer.assumed_thickness_mm == 20.2);
      REQUIRE(a.set.size() == 2);
      CHECK(a.set[0].key == "board.thickness");
      CHECK(a.set[1].key == "side_b.thickness");
    }
  s.board.assumed_thickness_mm = 20.2;
  CHECK(count("as measured") == 1); // side B's program still differs
  s.outer.assumed_thickness_mm = 20.2;
  CHECK(count("as measured") == 0);
  s.outer.assumed_thickness_mm.reset();
  CHECK(count("as measured") == 0);
  s.inner.assumed_thickness_mm = 20.1;
  CHECK(count("as measured") == 1);
  CHECK(cost_word(Cost::free) == "free");
  CHECK(cost_word(Cost::work) == "work");
  CHECK(cost_word(Cost::model) == "model");
}

TEST_CASE("witness pad: shifting by what the pad shows takes shared errors out") {
  Setup s = bed_both(20.3);
  s.board.variation_mm = 0.03;
  s.bed.flatness_mm = 0.1;
  s.board.footprint = Footprint{{-50, -50}, {50, 50}};
  s.inner.sanding_mm = 0.02;
  std::vector<Assumption> assumptions;
  const std::vector<Cause> causes = causes_of(s, assumptions);
  const WallSample pad{{-45, -45, -19}, {0, 0, -1}, 1.0}, p{{10, 5, -19}, {0.6, 0, -0.8}, 1.0};
  const std::vector<Cause> after = causes_after_shift(causes, pad, {});
  // Draw errors, read the pad, shift side B by what it shows, and look at the wall.
  std::mt19937 random(4);
  std::uniform_real_distribution<double> any(-1, 1);
  int varying = 0;
  for (int round = 0; round < 50; ++round) {
    double reading = 1.0, wall = 1.0, predicted = 1.0;
    for (std::size_t k = 0; k < after.size(); ++k) {
      if (after[k].field) { // the board under the wall and under the pad: errors by place
        std::vector<double> e(after[k].field->count());
        for (double& each : e)
          each = after[k].size * any(random);
        const auto acts = [&](const Cause& cause, const WallSample& at) {
          std::vector<ErrorShare> shares;
          cause.field->shares(at, shares);
          double sum = 0;
          for (const ErrorShare& share : shares)
            sum += share.c * e[share.error];
          return sum;
        };
        predicted += acts(after[k], p);
        wall += acts(causes[k], p);
        reading += acts(causes[k], pad);
        ++varying;
        continue;
      }
      const double e = after[k].distribution == Distribution::shift ? after[k].size
                                                                    : after[k].size * any(random);
      predicted += after[k].sensitivity(p) * e;
      wall += causes[k].sensitivity(p) * e;
      if (causes[k].on_pad == OnPad::same)
        reading += causes[k].sensitivity(pad) * e;
    }
    const double shift = 1.0 - reading; // typed in: raises the bit on side B
    CHECK(wall + 0.8 * shift == Approx(predicted).epsilon(1e-12));
  }
  CHECK(varying == 50);

  BudgetOptions options;
  options.limit_mm = 0.8;
  options.with_advice = options.with_allowed = false;
  options.pad = WitnessPad{Point2{-45, -45}, 1.0, 0.72, {}, {0.01, Knowledge::limits}};
  s.board.variation_mm = 0;
  s.bed.flatness_mm = 0.02;
  const Budget b = compute_budget(s, floor_with(0.95), options, {});
  REQUIRE(b.pad);
  CHECK(b.pad->expected_mm == Approx(0.7)); // the board is 0.3 thicker, both zeros on the bed
  CHECK(*b.pad->shift_mm == Approx(0.28));
  CHECK(b.verdict == Verdict::thin);
  CHECK(b.pad->verdict == Verdict::safe); // 0.95 - sanding 0.02 - beds and reading
  CHECK(b.pad->guaranteed_mm > 0.95 - 0.02 - 0.05);
  CHECK(b.warnings.empty());
  options.pad->reading_mm = 0.4;
  const Budget odd = compute_budget(s, floor_with(0.95), options, {});
  REQUIRE(odd.warnings.size() == 1);
  CHECK(odd.warnings[0].code == "pad-reading-unexpected");
  options.pad->reading_mm = -1;
  CHECK_THROWS_AS(compute_budget(s, floor_with(0.95), options, {}), InputError);
  options.pad->reading_mm.reset();
  CHECK_FALSE(compute_budget(s, floor_with(0.95), options, {}).pad->shift_mm);
}

TEST_CASE("reach: what the errors can take away, before anything is measured") {
  Setup s;
  s.inner.touch_off = s.outer.touch_off = {0.05, Knowledge::limits};
  s.bed.flatness_mm = 0.1;
  s.inner.sanding_mm = 0.02;
  const Box box{{-10, -10, -20}, {10, 10, 0}};
  CHECK(reach_of(s, box).thinner_mm == Approx(0.32)); // 2 x 0.05 + 2 x 0.1 + 0.02
  CHECK(reach_of(Setup{}, box).thinner_mm == 0);
}
