// Trials with errors that vary from place to place, against the slow, obvious way and closed forms.
#include "budget/budget_support.h"

#include "base/assumption.h"
#include "bed/bed_map.h"
#include "budget/budget.h"
#include "budget/effects/spread.h"
#include "budget/trials/counter_rng.h"
#include "budget/trials/linear_min_forest.h"
#include "budget/trials/outcome.h"
#include "budget/trials/piece_trials.h"
#include "budget/trials/shared_sensitivities.h"
#include "causes/model/error_tiles.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

std::vector<WallSample> bumpy(std::size_t n) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> any(-1, 1);
  std::vector<WallSample> samples;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3 out = unit({0.6 * any(random), 0.6 * any(random), -1});
    samples.push_back({{100 * any(random), 60 * any(random), -15}, out, 1.05 + 0.05 * any(random)});
  }
  return samples;
}

Setup board() {
  Setup s;
  s.board.footprint = Footprint{{-100, -60}, {100, 60}};
  return s;
}

Cause varying(const std::string& name, Distribution distribution, double size, double length,
              bool by_slope) {
  Cause c = plain_cause(name, distribution, size, -1);
  if (by_slope)
    c.sensitivity = [](const WallSample& p) { return p.n.z; };
  std::vector<Assumption> assumptions;
  vary_over_board(board(), length, "this", c, assumptions);
  return c;
}

// Two that all share, three that vary by different lengths.
std::vector<Cause> mixed() {
  std::vector<Cause> causes = {plain_cause("shift", Distribution::shift, 0.02),
                               plain_cause("touch", Distribution::rectangle, 0.05),
                               plain_cause("play", Distribution::disc, 0.03)};
  causes[1].sensitivity = [](const WallSample& p) { return -p.n.z; };
  causes[2].sensitivity = [](const WallSample& p) { return p.n.x; };
  causes[2].sensitivity_2 = [](const WallSample& p) { return p.n.y; };
  causes.push_back(varying("board", Distribution::rectangle, 0.04, 25, true));
  causes.push_back(varying("sand", Distribution::rectangle, 0.03, 10, false));
  causes.push_back(varying("gauge", Distribution::normal, 0.01, 40, true));
  return causes;
}

double slow_least(const std::vector<Cause>& causes, const std::vector<WallSample>& samples,
                  std::size_t trials, std::uint64_t seed, std::size_t t) {
  const TrialDraws draws(causes, trials, seed, std::nullopt, {});
  std::vector<double> e(draws.scalars().size());
  draws.errors(t, sizes_of(causes), e);
  double least = 1e9;
  for (const WallSample& s : samples) {
    const WallSample& p = s;
    double wall = s.wall_mm;
    for (std::size_t i = 0; i < e.size(); ++i) {
      const Cause& c = causes[draws.scalars()[i].cause];
      wall += e[i] * (draws.scalars()[i].second ? c.sensitivity_2(p) : c.sensitivity(p));
    }
    for (const Cause& c : causes) {
      if (c.distribution == Distribution::shift)
        wall += c.size * c.sensitivity(p);
      if (!c.field)
        continue;
      std::vector<ErrorShare> shares;
      c.field->shares(p, shares);
      for (const ErrorShare& share : shares) {
        const std::uint64_t stream = stream_of_part(stream_of(c.id), share.error);
        const double u = uniform_draw(seed, t, stream, 0), v = uniform_draw(seed, t, stream, 1);
        wall += share.c * c.size *
                (c.distribution == Distribution::normal ? normal_draw(u, v) : 2 * u - 1);
      }
    }
    least = std::min(least, wall);
  }
  return least;
}

ChanceRow chance(const Setup& s, const std::vector<WallSample>& samples, double limit_mm) {
  BudgetOptions options;
  options.limit_mm = limit_mm;
  options.trials = 100000;
  options.with_allowed = options.with_advice = false;
  return *compute_budget(s, samples, options, {}).chance;
}

} // namespace

TEST_CASE("varying errors: the least wall of each trial, every sample looked at one by one") {
  const std::vector<WallSample> samples = bumpy(6000); // more than are tried first
  const std::vector<Cause> causes = mixed();
  const std::size_t n = 60;
  const PieceTrials trials(causes, samples, {n, 11, {}}, {});
  const std::vector<double> least = trials.least_walls(std::nullopt, {});
  std::vector<double> slow;
  for (std::size_t t = 0; t < n; ++t)
    slow.push_back(slow_least(causes, samples, n, 11, t));
  for (std::size_t t = 0; t < n; ++t)
    CHECK(least[t] == Approx(slow[t]).epsilon(1e-12));
  std::vector<double> sorted = slow;
  std::sort(sorted.begin(), sorted.end());
  const PieceTrials::Tail tail = trials.tail(5, 0.9, {});
  CHECK(tail.guaranteed_mm == Approx(sorted[5]).epsilon(1e-12));
}

TEST_CASE("varying errors: more sets of places than are kept apart give the same walls") {
  std::vector<Cause> causes = {plain_cause("touch", Distribution::rectangle, 0.05),
                               varying("fine", Distribution::rectangle, 0.04, 4.2, true),
                               varying("finer", Distribution::rectangle, 0.04, 3.9, false)};
  const std::vector<WallSample> samples = bumpy(4000);
  CHECK(causes[1].field->count() > kMaxStands);
  const PieceTrials trials(causes, samples, {40, 3, {}}, {});
  const std::vector<double> least = trials.least_walls(std::nullopt, {});
  for (std::size_t t = 0; t < 40; ++t)
    CHECK(least[t] == Approx(slow_least(causes, samples, 40, 3, t)).epsilon(1e-12));
}

TEST_CASE("varying errors: other sizes, as if they had been stated so") {
  const std::vector<WallSample> samples = bumpy(3000);
  const std::vector<Cause> causes = mixed();
  const double limit = 0.93;
  PieceTrials trials(causes, samples, {80, 11, {}}, {});
  trials.prepare_sizes(limit, {});
  trials.prepare_search({});
  std::size_t some = 0;
  for (std::size_t k = 1; k < causes.size(); ++k)
    for (const double size : {0.0, 0.02, 0.06}) {
      REQUIRE(size <= trials.valid_up_to(k));
      std::vector<Cause> changed = causes;
      changed[k].size = size;
      for (std::size_t t = 0; t < 80; ++t) {
        const bool fails = trials.fails(t, sizes_of(changed));
        CHECK(fails == (slow_least(changed, samples, 80, 11, t) < limit));
        some += fails ? 1 : 0;
      }
    }
  CHECK(some > 50);
  CHECK(some < 1150);
}

TEST_CASE("eight equally thin places, far apart: each can fail on its own") {
  // Closed form: one place is under the limit with p = (1 - m / a) / 2, a the half-width of the
  // rectangle and m the margin; one of eight with 1 - (1 - p)^8.
  Setup s = board();
  s.inner.sanding_mm = 0.05;
  s.inner.sanding = {0.05, Knowledge::limits};
  std::vector<WallSample> apart, together;
  for (int i = 0; i < 8; ++i) {
    apart.push_back(flat_sample(-90 + 25.0 * i, 0, 0.9));
    together.push_back(flat_sample(-95 + 2.0 * i, 0, 0.9));
  }
  const double margin = 0.0481, p = (1 - margin / 0.05) / 2; // 0.019
  const double limit = 0.9 - 0.05 - margin;
  const double eight = 1 - std::pow(1 - p, 8);
  const auto sigma = [](double q) { return std::sqrt(q * (1 - q) / 100000); };
  CHECK(eight == Approx(0.1423).epsilon(0.001));
  CHECK(std::abs(chance(s, apart, limit).under_limit - eight) < 4 * sigma(eight));
  CHECK(std::abs(chance(s, together, limit).under_limit - p) < 4 * sigma(p));
  s.inner.sanding_length_mm = 300; // known to be even over the whole board
  CHECK(std::abs(chance(s, apart, limit).under_limit - p) < 4 * sigma(p));

  // The same for a board that is not even: no touch-off on it plays a part with zero on the bed.
  Setup b = board();
  b.inner.zero = b.outer.zero = ZeroFrom::bed;
  b.board.variation_mm = 0.05;
  CHECK(std::abs(chance(b, apart, 0.9 - margin).under_limit - eight) < 4 * sigma(eight));
  CHECK(std::abs(chance(b, together, 0.9 - margin).under_limit - p) < 4 * sigma(p));
}

TEST_CASE("a bed reading on the flip line serves both sides: one rectangle twice as wide") {
  // Zero on the bed at a far touch point whose reading plays its part as a second error. Closed
  // forms for sums of rectangles (trapezoid): P(X < -m) for half-widths 2a and 2a (two readings,
  // each twice) is (4a - m)^2 / (2 (4a)^2).
  Setup s = board();
  s.bed.seating = Seating::pressed;
  std::vector<Vec3> readings;
  for (const double x : {-100.0, 0.0, 100.0})
    for (const double y : {-60.0, 0.0, 60.0})
      readings.push_back({x, y, 0});
  s.bed.readings = std::make_shared<const BedMap>(BedMap::from_readings(readings));
  s.bed.reading_error = {0.02, Knowledge::limits};
  s.inner.touch_point = s.outer.touch_point = Point2{0, 60}; // one spot of the bed for both sides
  const double a = 0.02, m = 0.06;
  const double under = std::pow(4 * a - m, 2) / (2 * 16 * a * a);
  CHECK(under == Approx(0.03125));
  const auto sigma = std::sqrt(under * (1 - under) / 100000);
  CHECK(std::abs(chance(s, {flat_sample(0, 0, 0.9)}, 0.9 - m).under_limit - under) < 4 * sigma);
  // Worst case: both at their limits, both sides.
  BudgetOptions options;
  options.limit_mm = 0.8;
  options.trials = 1000;
  const Budget budget =
      compute_budget(s, std::vector<WallSample>{flat_sample(0, 0, 0.9)}, options, {});
  CHECK(budget.least.worst_mm == Approx(0.9 - 4 * a));
  REQUIRE(budget.causes.size() == 3); // the bed under side A and B as read, and its errors
  CHECK(budget.causes[2].id.kind == CauseKind::bed_reading);
  CHECK(budget.causes[2].at_thinnest_mm == Approx(4 * a));
}

TEST_CASE("two samples that share no factor: columns stay apart, and trials end") {
  // A scalar that is 0 on the first sample and not on the second is no multiple of the other.
  const std::vector<double> rows = {1.0, 0.0, 0.5, 0.2};
  const SharedSensitivities columns(rows, 2);
  CHECK(columns.count() == 2);
  CHECK(columns.fits(std::span(rows).subspan(0, 2)));
  CHECK(columns.fits(std::span(rows).subspan(2, 2)));
  CHECK(SharedSensitivities(std::vector<double>{1, 0, 2, 0}, 2).count() == 1);
  CHECK(SharedSensitivities(std::vector<double>{0, 1, 2, 0}, 2).count() == 2);
  std::vector<Cause> causes = {plain_cause("touch", Distribution::rectangle, 0.05),
                               plain_cause("sideways", Distribution::rectangle, 0.05)};
  causes[1].sensitivity = [](const WallSample& p) { return p.n.x; };
  const std::vector<WallSample> samples = {flat_sample(0, 0, 1.0),
                                           {{5, 0, -19}, {0.6, 0, -0.8}, 1.0}};
  const PieceTrials trials(causes, samples, {50, 1, {}}, {});
  const std::vector<double> least = trials.least_walls(std::nullopt, {});
  for (std::size_t t = 0; t < least.size(); ++t)
    CHECK(least[t] == Approx(slow_least(causes, samples, 50, 1, t)).epsilon(1e-12));
}

TEST_CASE("limits and uncertainty of several errors at one place") {
  // Half-widths add up, squares add up for u (GUM 5.1.2, 4.3.7).
  Cause c = plain_cause("readings", Distribution::rectangle, 0.02);
  class Two : public ErrorField {
   public:
    std::uint32_t count() const override { return 2; }
    void shares(const WallSample&, std::vector<ErrorShare>& out) const override {
      out.push_back({0, 0.6});
      out.push_back({1, -0.8});
    }
  };
  set_field(c, std::make_shared<const Two>());
  std::vector<Effect> effects(1);
  effects_at(std::vector<Cause>{c}, {}, effects);
  CHECK(effects[0].half_width == Approx(0.02 * 1.4));
  CHECK(effects[0].u == Approx(0.02 / std::sqrt(3.0)));
  c.distribution = Distribution::normal;
  effects_at(std::vector<Cause>{c}, {}, effects);
  CHECK(effects[0].half_width == Approx(2 * 0.02 * 1.4));
  CHECK(effects[0].u == Approx(0.02));
}
