// Trials of the whole piece against the slow, obvious way.
#include "budget/budget_support.h"

#include "budget/effects/spread.h"
#include "budget/trials/counter_rng.h"
#include "budget/trials/linear_min_tree.h"
#include "budget/trials/outcome.h"
#include "budget/trials/piece_trials.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>
#include <set>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

// A bowl with many slopes, walls between 1.0 and 1.1.
std::vector<WallSample> bowl(std::size_t n) {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> any(-1, 1);
  std::vector<WallSample> samples;
  while (samples.size() < n) {
    const double x = any(random), y = any(random);
    if (x * x + y * y < 0.98) {
      const Vec3 n_out{x, y, -std::sqrt(1 - x * x - y * y)};
      samples.push_back({40.0 * n_out, n_out, 1.05 + 0.05 * any(random)});
    }
  }
  return samples;
}

// One of every distribution, with slopes and places in the sensitivities.
std::vector<Cause> mixed() {
  std::vector<Cause> causes = {plain_cause("shift", Distribution::shift, 0.02),
                               plain_cause("touch", Distribution::rectangle, 0.1),
                               plain_cause("tip", Distribution::normal, 0.05),
                               plain_cause("overcut", Distribution::half_uniform, 0.05),
                               plain_cause("play", Distribution::disc, 0.03),
                               rough_cause("rough", Distribution::rectangle, 0.15, 0.05, {1, 2})};
  for (const std::size_t k : {0, 1, 2, 5})
    causes[k].sensitivity = [](const WallSample& p) { return -p.n.z; };
  causes[3].sensitivity = [](const WallSample& p) { return -std::hypot(p.n.x, p.n.y); };
  causes[4].sensitivity = [](const WallSample& p) { return p.n.x * (1 + p.at.y / 100); };
  causes[4].sensitivity_2 = [](const WallSample& p) { return p.n.y * (1 - p.at.x / 50); };
  return causes;
}

double slow_least(const std::vector<Cause>& causes, const std::vector<WallSample>& samples,
                  const TrialDraws& draws, std::size_t t) {
  std::vector<double> e(draws.scalars().size());
  draws.errors(t, sizes_of(causes), e);
  double least = 1e9;
  for (const WallSample& s : samples) {
    const WallSample& p = s;
    double wall = s.wall_mm;
    for (const Cause& c : causes)
      if (c.distribution == Distribution::shift)
        wall += c.size * c.sensitivity(p);
    for (std::size_t i = 0; i < e.size(); ++i) {
      const Cause& c = causes[draws.scalars()[i].cause];
      wall += e[i] * (draws.scalars()[i].second ? c.sensitivity_2(p) : c.sensitivity(p));
    }
    least = std::min(least, wall);
  }
  return least;
}

} // namespace

TEST_CASE("draws: a function of seed, trial, stream and which; even and normal") {
  CHECK(uniform_draw(1, 2, 3, 0) == uniform_draw(1, 2, 3, 0));
  CHECK(uniform_draw(1, 2, 3, 0) != uniform_draw(2, 2, 3, 0));
  CHECK(uniform_draw(1, 2, 3, 0) != uniform_draw(1, 3, 3, 0));
  CHECK(uniform_draw(1, 2, 3, 0) != uniform_draw(1, 2, 4, 0));
  CHECK(uniform_draw(1, 2, 3, 0) != uniform_draw(1, 2, 3, 1));
  // SplitMix64's first output for the seed 0, as its authors publish it (from memory).
  CHECK(stream_of({CauseKind::touch_off}) == 0xe220a8397b1dcdafu);
  // Every part of an identity tells streams apart.
  std::set<std::uint64_t> streams;
  for (const CauseKind kind : {CauseKind::touch_off, CauseKind::tool_setter, CauseKind::sanding})
    for (const std::optional<Side> side : {std::optional<Side>(), {Side::a}, {Side::b}})
      for (const std::uint32_t instance : {0u, 1u, 2u})
        for (const bool in_pad : {false, true})
          streams.insert(stream_of({kind, side, instance, in_pad}));
  CHECK(streams.size() == 3 * 3 * 3 * 2);
  const int n = 200000;
  double bins[20] = {}, mean = 0, square = 0, cross = 0;
  for (int t = 0; t < n; ++t) {
    const auto trial = static_cast<std::uint64_t>(t);
    const double u = uniform_draw(9, trial, 4, 0), v = uniform_draw(9, trial, 5, 0);
    bins[static_cast<int>(u * 20)] += 1;
    cross += (u - 0.5) * (v - 0.5);
    const double z = normal_draw(u, v);
    mean += z;
    square += z * z;
  }
  double chi = 0;
  for (const double b : bins)
    chi += (b - n / 20.0) * (b - n / 20.0) / (n / 20.0);
  CHECK(chi < 43.8); // chi-squared, 19 degrees of freedom, 0.999 point
  CHECK(std::abs(mean / n) < 0.01);
  CHECK(square / n == Approx(1).epsilon(0.02));
  CHECK(std::abs(cross / n * 12) < 0.01);
}

TEST_CASE("middle and limits for many places: the sums of the effects, cause by cause") {
  std::vector<Cause> causes = mixed();
  causes[5].size = 0.4; // deep enough to overcut
  const Limits limits(causes);
  std::vector<Effect> effects(causes.size());
  for (const WallSample& s : bowl(500)) {
    const WallSample& p = s;
    effects_at(causes, p, effects);
    const Effect sum = sum_of(effects);
    // To the last bit: the verdict comes from one, what is advised to reach it from the other.
    CHECK(limits.at(p).shift == sum.shift);
    CHECK(limits.at(p).half_width == sum.half_width);
    CHECK(sum.half_width > 0.05);
  }
}

TEST_CASE("the tree finds the least of all rows, and nothing where there is nothing") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> any(-1, 1);
  struct Kind {
    std::size_t rows, columns;
    bool bounded;
  };
  for (const auto& [rows, columns, bounded] : {Kind{700, 0, false},
                                               {700, 1, false},
                                               {700, 3, false},
                                               {700, 40, false},
                                               {20000, 3, false},
                                               {1, 2, true},
                                               {700, 0, true},
                                               {700, 1, true},
                                               {20000, 2, true},
                                               {20000, 5, true}}) {
    CAPTURE(rows);
    CAPTURE(columns);
    std::vector<double> w(rows), c(rows * columns), reach(columns, 0.3), low(columns, -0.3),
        high(columns, 0.3);
    for (double& x : w)
      x = 1 + 0.2 * any(random);
    for (double& x : c)
      x = any(random);
    for (std::size_t i = rows / 2; i < rows; ++i) { // half of them twice, more or less
      w[i] = w[i - rows / 2] + (i % 3 == 0 ? 1e-3 : 0.0);
      std::copy_n(c.begin() + static_cast<std::ptrdiff_t>((i - rows / 2) * columns), columns,
                  c.begin() + static_cast<std::ptrdiff_t>(i * columns));
    }
    const ErrorReach errors = bounded ? ErrorReach{reach, low, high} : ErrorReach{reach, {}, {}};
    const LinearMinTree tree(w, c, columns, errors, {});
    CHECK(tree.rows() <= rows);
    CHECK((bounded && rows > 1 && columns > 0) == (tree.rows() < rows));
    for (int round = 0; round < 200; ++round) {
      std::vector<double> e(columns);
      for (double& x : e)
        x = 0.3 * any(random);
      double least = 1e9;
      for (std::size_t i = 0; i < rows; ++i) {
        double value = w[i];
        for (std::size_t j = 0; j < columns; ++j)
          value += c[i * columns + j] * e[j];
        least = std::min(least, value);
      }
      CHECK(tree.least(e, 1e9) == Approx(least).epsilon(1e-13));
      CHECK(tree.least(e, least - 0.1) == least - 0.1);
      CHECK(tree.any_below(e, least + 1e-9));
      CHECK_FALSE(tree.any_below(e, least - 1e-9));
    }
  }
}

TEST_CASE("least wall of each trial: every sample looked at one by one") {
  const std::vector<WallSample> samples = bowl(6000); // more than are tried first
  const std::vector<Cause> causes = mixed();
  const std::size_t n = 150;
  const PieceTrials trials(causes, samples, {n, 11, {}}, {});
  const TrialDraws draws(causes, n, 11, std::nullopt, {});
  const std::vector<double> least = trials.least_walls(std::nullopt, {});
  std::vector<double> slow;
  for (std::size_t t = 0; t < n; ++t)
    slow.push_back(slow_least(causes, samples, draws, t));
  for (std::size_t t = 0; t < n; ++t)
    CHECK(least[t] == Approx(slow[t]).epsilon(1e-12));
  std::vector<double> sorted = slow;
  std::sort(sorted.begin(), sorted.end());
  for (const double limit : {0.0, 0.9, 2.0}) {
    const PieceTrials::Tail tail = trials.tail(7, limit, {});
    CHECK(tail.guaranteed_mm == Approx(sorted[7]).epsilon(1e-12));
    for (std::size_t t = 0; t < n; ++t)
      if (slow[t] < limit || slow[t] <= sorted[7])
        CHECK(tail.least[t] == Approx(slow[t]).epsilon(1e-12));
      else
        CHECK(tail.least[t] >= std::max(limit, sorted[7] - 1e-12));
  }
}

TEST_CASE("other sizes of a cause: as if the cause had been stated so") {
  const std::vector<WallSample> samples = bowl(6000);
  const std::vector<Cause> causes = mixed();
  const double limit = 0.85;
  for (std::size_t k = 0; k < causes.size(); ++k) {
    TrialOptions options{120, 11, {}};
    if (causes[k].distribution == Distribution::shift)
      options.freed_shift = k;
    PieceTrials trials(causes, samples, options, {});
    trials.prepare_sizes(limit, {});
    trials.prepare_search({});
    for (const double size : {0.0, 0.06, 0.3}) {
      if (size > trials.valid_up_to(k))
        continue;
      std::vector<Cause> changed = causes;
      changed[k].size = size;
      const TrialDraws draws(changed, 120, 11, std::nullopt, {});
      std::size_t fails = 0, slow = 0;
      for (std::size_t t = 0; t < 120; ++t) {
        fails += trials.fails(t, sizes_of(changed)) ? 1 : 0;
        slow += slow_least(changed, samples, draws, t) < limit ? 1 : 0;
      }
      CHECK(fails == slow);
    }
  }
}

TEST_CASE(
    "room of a cause: no trial fails while its size changes by no more, and it is not far off") {
  const std::vector<WallSample> samples = bowl(3000);
  const std::vector<Cause> causes = mixed();
  const auto least = [&](std::size_t k, double size, double limit) {
    std::vector<Cause> changed = causes;
    changed[k].size = size;
    const TrialDraws draws(changed, 300, 11, std::nullopt, {});
    double of_all = 1e9;
    for (std::size_t t = 0; t < 300; ++t)
      of_all = std::min(of_all, slow_least(changed, samples, draws, t));
    return of_all - limit;
  };
  int within = 0;
  for (const double limit : {0.1, 0.3}) {
    for (std::size_t k = 0; k < causes.size(); ++k) {
      TrialOptions options{300, 11, {}};
      if (causes[k].distribution == Distribution::shift)
        options.freed_shift = k;
      PieceTrials trials(causes, samples, options, {});
      trials.prepare_sizes(limit, {});
      trials.prepare_search({});
      if (!trials.holds_as_stated()) {
        CHECK(trials.room(k) == 0);
        continue;
      }
      REQUIRE(trials.room(k) > 0);
      for (const double part : {-1.0, -0.5, 0.5, 1.0}) {
        const double size = causes[k].size + part * std::min(trials.room(k), 50.0);
        if (size < 0 && causes[k].distribution != Distribution::shift)
          continue;
        ++within;
        CHECK(least(k, size, limit) >= -1e-9);
        std::vector<Cause> changed = causes;
        changed[k].size = size;
        CHECK(trials.least_expected(sizes_of(changed)) >= limit - 1e-9);
      }
    }
    // Far beyond it some trial fails.
    CHECK(least(1, causes[1].size + 50, limit) < 0);
  }
  CHECK(within > 10);
}

TEST_CASE("no draw is larger than the largest told, of a disc by its length") {
  const std::vector<Cause> causes = mixed();
  for (const std::size_t trials : {1, 3, 40}) {
    CAPTURE(trials);
    const TrialDraws draws(causes, trials, 7, std::nullopt, {});
    for (std::size_t k = 1; k < causes.size(); ++k) { // the first is a known shift
      CAPTURE(k);
      double drawn = 0;
      for (std::size_t t = 0; t < trials; ++t)
        drawn = std::max(drawn, draws.unit(t, k));
      CHECK(drawn > 0);
      CHECK(drawn <= draws.largest_units()[k]);
      if (causes[k].distribution.scalars() == 1)
        CHECK(drawn == draws.largest_units()[k]);
    }
    CHECK(draws.largest_units()[0] == 1); // known: as it is
  }
}

TEST_CASE("the accepted number of failing trials is not lost to rounding") {
  CHECK(accepted_fails(0.05, 20000) == 1000);
  CHECK(accepted_fails(0.05, 20) == 1);
  CHECK(accepted_fails(0.05, 19) == 0);
  CHECK(accepted_fails(0.0, 1000) == 0);
  CHECK(accepted_fails(0.29, 100) == 29);
}
