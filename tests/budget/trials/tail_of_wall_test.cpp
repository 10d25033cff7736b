// What leaves samples out says what all of them say: the same walls with and without bounds.
#include "budget/trials/tail_of_wall.h"

#include "base/assumption.h"
#include "bed/bed_map.h"
#include "budget/budget_support.h"
#include "budget/trials/allowed_error.h"
#include "budget/trials/outcome.h"
#include "causes/causes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

/// A bowl, 40 mm across, with walls between `least` and `more` over it; thin at several places that
/// tilt different ways.
std::vector<WallSample> bowl(std::size_t n, double least, double more, std::mt19937& random) {
  std::uniform_real_distribution<double> any(-1, 1);
  std::vector<WallSample> samples;
  while (samples.size() < n) {
    const double x = any(random), y = any(random);
    if (x * x + y * y > 0.9)
      continue;
    const Vec3 out{x, y, -std::sqrt(1 - x * x - y * y)};
    const double ripple = std::cos(9 * x) * std::cos(7 * y);
    samples.push_back(
        {20.0 * out, out, least + more / 2 * (1 + ripple) + 0.01 * (1 + any(random))});
  }
  return samples;
}

Setup any_setup(std::mt19937& random) {
  const auto pick = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const auto coin = [&] { return pick(0, 1) < 0.5; };
  Setup s;
  s.board.footprint = Footprint{{-30, -30}, {30, 30}};
  s.board.measured_thickness_mm = 40;
  s.inner.assumed_thickness_mm = s.outer.assumed_thickness_mm = pick(39.9, 40.1);
  s.board.variation_mm = coin() ? 0.03 : 0;
  for (SideSetup* side : {&s.inner, &s.outer}) {
    side->zero = coin() ? ZeroFrom::top : ZeroFrom::bed;
    side->touch_point = Point2{pick(-25, 25), pick(-25, 25)};
    side->touch_off = {pick(0.01, 0.1), coin() ? Knowledge::limits : Knowledge::standard};
    side->bit.radius = {0.02, Knowledge::limits};
    side->bit.tip_height = {0.02, Knowledge::limits};
    side->sanding_mm = 0.03;
    if (coin())
      side->roughing = Roughing{0.03, Uncertain{0.08, Knowledge::limits}};
  }
  if (coin()) {
    s.bed.readings = std::make_shared<const BedMap>(BedMap::grid(
        {-30, 30}, {-30, 30},
        std::vector<std::optional<double>>{pick(0, 0.2), pick(0, 0.2), pick(0, 0.2), 0.0}));
    s.bed.reading_error = {0.01, Knowledge::limits};
  } else {
    s.bed.flatness_mm = pick(0, 0.1);
  }
  Dowels dowels;
  dowels.spacing_mm = 50;
  dowels.clearance_1_mm = dowels.clearance_2_mm = pick(0, 0.1);
  s.flip.dowels = dowels;
  return s;
}

std::vector<Cause> without_bounds(std::vector<Cause> causes) {
  for (Cause& cause : causes)
    cause.bound = {};
  return causes;
}

} // namespace

TEST_CASE("trials, expected and worst walls and allowed errors: as if all samples were asked") {
  std::mt19937 random(77);
  std::size_t few_asked = 0, more_asked = 0;
  for (int round = 0; round < 24; ++round) {
    const double limit = 0.5, least = limit + 0.05 * (round % 8);
    const std::vector<WallSample> samples =
        bowl(round % 3 == 0 ? 40000 : 12000, least, round % 2 == 0 ? 3 : 0.1, random);
    std::vector<Assumption> assumptions;
    const std::vector<Cause> causes = causes_of(any_setup(random), assumptions);
    const std::vector<Cause> unbounded = without_bounds(causes);
    const ThinFirst thin_first(samples);
    const TrialOptions trials{1500, 7, {}};
    const PieceTrials::Tail tail = tail_of_wall(causes, thin_first, trials, 75, limit, {});
    const PieceTrials::Tail all = PieceTrials(unbounded, samples, trials, {}).tail(75, limit, {});
    CHECK(tail.guaranteed_mm == Approx(all.guaranteed_mm).epsilon(1e-12));
    const double to = std::max(all.guaranteed_mm, limit);
    for (std::size_t t = 0; t < all.least.size(); ++t) {
      if (all.least[t] < to)
        CHECK(tail.least[t] == Approx(all.least[t]).epsilon(1e-12));
      else
        CHECK(tail.least[t] >= to - 1e-12);
    }
    for (const VerdictBasis basis : {VerdictBasis::chance, VerdictBasis::worst_case}) {
      OutcomeOptions options{limit, basis, 0.05, 1500, 7};
      const Outcome some = outcome_of(causes, samples, options, {});
      const Outcome every = outcome_of(unbounded, samples, options, {});
      CHECK(some.least_expected_mm == every.least_expected_mm);
      CHECK(some.least_worst_mm == every.least_worst_mm);
      CHECK(some.guaranteed_mm == Approx(every.guaranteed_mm).epsilon(1e-12));
      CHECK(some.verdict == every.verdict);
    }
    OutcomeOptions options{limit, VerdictBasis::chance, 0.05, 1500, 7};
    CHECK(allowed_errors(causes, samples, options, {}) ==
          allowed_errors(unbounded, samples, options, {}));
    // Samples are really left out, and sometimes more than the first are needed.
    const std::size_t under = thin_first.under(to + 0.2).size();
    few_asked += thin_first.first().size() < samples.size() / 2 ? 1 : 0;
    more_asked += under > thin_first.first().size() ? 1 : 0;
  }
  CHECK(few_asked > 15);
  CHECK(more_asked > 3);
}

TEST_CASE("a thicker wall that an error alone reaches is asked, whatever the thinnest ones say") {
  // Thinnest where nothing acts, x < 0: 1.0 to 1.1 mm. Where the error acts all walls are 1.4 mm.
  std::vector<WallSample> samples;
  for (int i = 0; i < 10000; ++i)
    samples.push_back(flat_sample(-1 - i % 10, i % 7, 1 + 1e-5 * i));
  for (int i = 0; i < 3000; ++i)
    samples.push_back(flat_sample(1 + i % 10, i % 7, 1.4));
  Cause cause = plain_cause("one side", Distribution::rectangle, 0.5);
  cause.sensitivity = [](const WallSample& p) { return p.at.x > 0 ? 1.0 : 0.0; };
  cause.bound = at_most(1);
  OutcomeOptions options{0.5, VerdictBasis::chance, 0.05, 20000, 1};
  Outcome got = outcome_of(std::vector{cause}, samples, options, {});
  CHECK(got.least_expected_mm == 1);
  CHECK(got.least_worst_mm == Approx(0.9).epsilon(1e-12));
  // 1 in 20 of a rectangle of 0.5 either way: 0.45 and more. 3 standard errors of 20000 trials.
  CHECK(got.guaranteed_mm == Approx(1.4 - 0.45).epsilon(0.005));
  Cause shift = cause;
  shift.distribution = Distribution::shift;
  shift.size = -0.5;
  got = outcome_of(std::vector{shift}, samples, options, {});
  CHECK(got.least_expected_mm == Approx(0.9).epsilon(1e-12));
  CHECK(got.guaranteed_mm == Approx(0.9).epsilon(1e-12));
  // A limit of 0.95: the trials say how large the error may be, 0.45 / 0.9.
  options.limit_mm = 0.95;
  const std::optional<double> allowed =
      allowed_errors(std::vector{cause}, samples, options, {}).front();
  REQUIRE(allowed);
  CHECK(*allowed == Approx(0.5).epsilon(0.005));
}
