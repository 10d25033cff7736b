// Closed forms by hand.
#include "budget/effects/most_thinning.h"

#include "budget/budget_support.h"

#include <cmath>
#include <doctest/doctest.h>
#include <limits>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

Cause bounded(const char* name, Distribution distribution, double size, double bound) {
  Cause cause = plain_cause(name, distribution, size);
  cause.bound = at_most(bound);
  return cause;
}

MostThinning of(const std::vector<Cause>& causes, const std::vector<double>& sizes,
                const std::vector<double>& draws) {
  const std::optional<MostThinning> most = most_thinning(causes, sizes, draws, {});
  REQUIRE(most);
  return *most;
}

} // namespace

TEST_CASE("what each distribution can take: known, at worst, in a trial") {
  // A shift of -0.2 that acts by 0.5.
  MostThinning m = of({bounded("a", Distribution::shift, -0.2, 0.5)}, {-0.2}, {1});
  CHECK(m.known_mm == Approx(0.1));
  CHECK(m.worst_mm == Approx(0.1));
  CHECK(m.drawn_mm == Approx(0.1));
  m = of({bounded("a", Distribution::rectangle, 0.1, 2)}, {0.1}, {0.99});
  CHECK(m.known_mm == 0);
  CHECK(m.worst_mm == Approx(0.2));
  CHECK(m.drawn_mm == Approx(0.198));
  // The worst case of a normal one goes to 2 u, its draws farther.
  m = of({bounded("a", Distribution::normal, 0.1, 1)}, {0.1}, {4});
  CHECK(m.known_mm == 0);
  CHECK(m.worst_mm == Approx(0.2));
  CHECK(m.drawn_mm == Approx(0.4));
  // 0 to 0.1: 0.05 is expected.
  m = of({bounded("a", Distribution::half_uniform, 0.1, 1)}, {0.1}, {1});
  CHECK(m.known_mm == Approx(0.05));
  CHECK(m.worst_mm == Approx(0.1));
  CHECK(m.drawn_mm == Approx(0.1));
  // Other sizes than the stated ones count.
  CHECK(of({bounded("a", Distribution::disc, 0.1, 1)}, {0.3}, {1}).drawn_mm == Approx(0.3));
}

TEST_CASE("a roughing mark is no deeper than both bits' errors over what is left for finishing") {
  std::vector<Cause> causes = {bounded("finish", Distribution::rectangle, 0.05, 1),
                               rough_cause("rough", Distribution::rectangle, 0.2, 0.1, {0})};
  causes[1].bound = at_most(1);
  MostThinning m = of(causes, {0.05, 0.2}, {1, 1});
  CHECK(m.known_mm == 0);
  CHECK(m.drawn_mm == Approx(0.05 + 0.15)); // 0.2 + 0.05 - 0.1
  CHECK(m.worst_mm == Approx(0.05 + 0.15));
  causes[1].overcut->allowance_mm = 0.5; // never gets there
  m = of(causes, {0.05, 0.2}, {1, 1});
  CHECK(m.drawn_mm == Approx(0.05));
}

TEST_CASE("a cause whose bound is not known leaves all open") {
  const std::vector<Cause> causes = {bounded("a", Distribution::rectangle, 0.1, 1),
                                     plain_cause("b", Distribution::rectangle, 0.1)};
  CHECK_FALSE(most_thinning(causes, std::vector<double>{0.1, 0.1}, largest_draws(causes), {}));
  for (const double bound : {std::nan(""), std::numeric_limits<double>::infinity()}) {
    const std::vector<Cause> odd = {bounded("a", Distribution::rectangle, 0.1, bound)};
    CHECK_FALSE(most_thinning(odd, std::vector<double>{0.1}, largest_draws(odd), {}));
  }
}
