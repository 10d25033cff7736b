#include "budget/budget.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "setup/quick_setup.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

WallSample flat(double x, double wall) {
  return {{x, 0, -19}, {0, 0, -1}, wall};
}

} // namespace

TEST_CASE("quick flags: two touch-offs and the bed twice, by the cosine of the slope") {
  std::vector<Assumption> assumptions;
  const Setup setup = quick_setup({0.05, 0.15}, assumptions);
  CHECK(assumptions.size() == 4);
  std::vector<WallSample> samples = {flat(0, 1.3), flat(1, 1.25)};
  samples.push_back({{2, 0, -10}, {0.8, 0, -0.6}, 1.1});
  samples.push_back({{3, 0, -10}, {1, 0, 0}, 1.4});
  BudgetOptions options;
  options.limit_mm = 0.8;
  options.basis = VerdictBasis::worst_case;
  const Budget b = compute_budget(setup, samples, options, {});
  // Closed form: worst = wall - |n_z| (2 * 0.05 + 2 * 0.15).
  CHECK(b.expected_mm[0] == doctest::Approx(1.3).epsilon(1e-12));
  CHECK(b.worst_mm[0] == doctest::Approx(0.9).epsilon(1e-12));
  CHECK(b.worst_mm[1] == doctest::Approx(0.85).epsilon(1e-12));
  CHECK(b.worst_mm[2] == doctest::Approx(1.1 - 0.6 * 0.4).epsilon(1e-12));
  CHECK(b.worst_mm[3] == doctest::Approx(1.4).epsilon(1e-12));
  CHECK(b.least.sample == 2);
  CHECK(b.least.expected_mm == doctest::Approx(1.1));
  CHECK(b.least.worst_mm == doctest::Approx(0.85).epsilon(1e-12));
  CHECK(b.verdict == Verdict::safe);
  REQUIRE(b.causes.size() == 4);
  CHECK(b.causes[b.worst_cause[0]].id.kind == CauseKind::bed_flatness);
  CHECK(b.worst_cause[3] == kNoCause);

  samples[1].wall_mm = 1.19;
  CHECK(compute_budget(setup, samples, options, {}).verdict == Verdict::at_risk);
  samples[1].wall_mm = 0.79;
  CHECK(compute_budget(setup, samples, options, {}).verdict == Verdict::thin);
  samples[1].wall_mm = 0;
  CHECK(compute_budget(setup, samples, options, {}).verdict == Verdict::cut_through);
}

TEST_CASE("what cannot be computed is refused in one line") {
  std::vector<Assumption> assumptions;
  CHECK_THROWS_AS(quick_setup({-0.05, 0}, assumptions), InputError);
  CHECK_THROWS_AS(quick_setup({0, std::numeric_limits<double>::quiet_NaN()}, assumptions),
                  InputError);
  const Setup setup = quick_setup({0.05, 0.1}, assumptions);
  CHECK_THROWS_AS(compute_budget(setup, {}, {}, {}), InputError);
  const std::vector<WallSample> bad = {flat(0, std::numeric_limits<double>::quiet_NaN())};
  CHECK_THROWS_AS(compute_budget(setup, bad, {}, {}), InputError);
}
