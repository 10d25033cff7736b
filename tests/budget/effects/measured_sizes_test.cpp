// Allowed errors and what was measured; closed forms.
#include "budget/effects/measured_sizes.h"

#include "budget/budget.h"
#include "budget/budget_support.h"

#include <doctest/doctest.h>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

TEST_CASE("sizes that measured walls can answer for") {
  // Thinning now: 0.1 + 2 x 0.05 = 0.2. Spare 0.7: the first may grow by 0.5 / 1, the second by
  // 0.5 / 2; a cause that moves nothing has no bound.
  const std::vector<Cause> causes = {plain_cause("a", Distribution::rectangle, 0.1),
                                     plain_cause("b", Distribution::rectangle, 0.05, -2),
                                     plain_cause("idle", Distribution::rectangle, 1, 0)};
  const std::vector<WallSample> samples = {flat_sample(0, 0, 2), flat_sample(5, 0, 3)};
  const std::vector<double> sizes = measured_sizes(causes, samples, 0.7, RunContext{});
  CHECK(sizes[0] == Approx(0.6));
  CHECK(sizes[1] == Approx(0.3));
  CHECK(sizes[2] > 1e300);
}

TEST_CASE("causes that one value states grow together; a normal one counts by its limit") {
  std::vector<Cause> causes = {plain_cause("flatness, A", Distribution::rectangle, 0.1),
                               plain_cause("flatness, B", Distribution::rectangle, 0.1),
                               plain_cause("u", Distribution::normal, 0.05)};
  causes[0].setting = causes[1].setting = "bed.flatness";
  const std::vector<WallSample> samples = {flat_sample(0, 0, 2)};
  const std::vector<double> sizes = measured_sizes(causes, samples, 0.7, RunContext{});
  CHECK(sizes[0] == Approx(0.1 + (0.7 - 0.3) / 2));
  CHECK(sizes[1] == sizes[0]);
  CHECK(sizes[2] == Approx(0.05 + (0.7 - 0.3) / 2)); // its limit is twice its uncertainty
}

TEST_CASE("an allowed error beyond the measured walls is cut back and marked") {
  // A wall of 2.0 and a limit of 0.8 leave far more room than walls known up to 1.2 can answer for.
  Setup setup;
  setup.board.assumed_thickness_mm = 20;
  setup.inner.touch_off = {0.05, Knowledge::limits};
  const std::vector<WallSample> samples = {flat_sample(0, 0, 2), flat_sample(5, 5, 2.5)};
  BudgetOptions options;
  options.limit_mm = 0.8;
  for (const VerdictBasis basis : {VerdictBasis::chance, VerdictBasis::worst_case}) {
    options.basis = basis;
    options.measured_to_mm = 1.2;
    const Budget cut = compute_budget(setup, samples, options, RunContext{});
    options.measured_to_mm = 9;
    const Budget whole = compute_budget(setup, samples, options, RunContext{});
    bool found = false;
    for (std::size_t k = 0; k < cut.causes.size(); ++k)
      if (cut.cause_model[k].id.kind == CauseKind::touch_off && cut.cause_model[k].size == 0.05) {
        found = true;
        REQUIRE(cut.causes[k].largest_allowed_mm);
        CHECK(*cut.causes[k].largest_allowed_mm == Approx(0.4)); // 0.05 + (0.4 - 0.05)
        CHECK(cut.causes[k].allowed_at_least);
        CHECK(*whole.causes[k].largest_allowed_mm > 1.19);
        CHECK_FALSE(whole.causes[k].allowed_at_least);
      }
    CHECK(found);
  }
}
