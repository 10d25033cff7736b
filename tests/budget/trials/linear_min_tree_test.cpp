// The least of many rows against the plain loop, for rows that are hard to part.
#include "budget/trials/linear_min_tree.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <functional>
#include <random>
#include <tbb/global_control.h>

using namespace leastwall;

namespace {

struct Rows {
  std::size_t columns;
  std::vector<double> w, c;

  Rows(std::size_t rows, std::size_t g, const std::function<double(std::size_t)>& wall,
       const std::function<double(std::size_t, std::size_t)>& factor)
      : columns(g) {
    for (std::size_t i = 0; i < rows; ++i) {
      w.push_back(wall(i));
      for (std::size_t j = 0; j < g; ++j)
        c.push_back(factor(i, j));
    }
  }
  double least(const std::vector<double>& e) const {
    double best = 1e300;
    for (std::size_t i = 0; i < w.size(); ++i) {
      double value = w[i];
      for (std::size_t j = 0; j < columns; ++j)
        value += c[i * columns + j] * e[j];
      best = std::min(best, value);
    }
    return best;
  }
};

/// Random errors between the bounds, their corners and, where nothing bounds them, far beyond.
void check(const Rows& rows, const std::vector<double>& low, const std::vector<double>& high,
           double usual = 0.1) {
  std::mt19937 random(17);
  const std::vector<double> sizes(rows.columns, usual);
  for (const bool bounded : {false, true}) {
    const LinearMinTree tree(rows.w, rows.c, rows.columns,
                             bounded ? ErrorReach{sizes, low, high} : ErrorReach{sizes, {}, {}},
                             {});
    CHECK(tree.rows() <= rows.w.size());
    CHECK((bounded || tree.rows() == rows.w.size()));
    for (int round = 0; round < 40; ++round) {
      std::vector<double> e(rows.columns);
      for (std::size_t j = 0; j < rows.columns; ++j) {
        const double along = round % 2 == 0 ? std::uniform_real_distribution<double>(0, 1)(random)
                                            : static_cast<double>(random() % 2);
        e[j] = (low[j] + along * (high[j] - low[j])) * (bounded || round % 4 < 2 ? 1 : 100);
      }
      const double want = rows.least(e);
      REQUIRE(std::abs(tree.least(e, 1e300) - want) <= 1e-12 * (1 + std::abs(want)));
      REQUIRE(tree.any_below(e, want + 1e-9 * (1 + std::abs(want))));
      REQUIRE_FALSE(tree.any_below(e, want - 1e-9 * (1 + std::abs(want))));
    }
  }
}

} // namespace

TEST_CASE("least of rows: all equal, one aside, few values, steps that halve") {
  const std::vector<double> low{-0.3, 0, -0.1}, high{0.2, 0, 0.4};
  for (const std::size_t n : {1u, 2u, 15u, 16u, 17u, 33u, 4096u, 4097u, 20000u}) {
    CAPTURE(n);
    check(Rows(
              n, 3, [](std::size_t) { return 1.0; }, [](std::size_t, std::size_t) { return 0.5; }),
          low, high);
    check(Rows(
              n, 3, [n](std::size_t i) { return i + 1 == n ? 0.9 : 1.0; },
              [](std::size_t, std::size_t j) { return j == 1 ? -1.0 : 1.0; }),
          low, high);
    check(Rows(
              n, 3, [](std::size_t i) { return static_cast<double>(i % 3); },
              [](std::size_t i, std::size_t j) { return static_cast<double>(i * (j + 1) % 5); }),
          low, high);
    // Cut at its middle, each part holds all but a few rows in a corner of itself.
    check(Rows(
              n, 3, [](std::size_t i) { return std::ldexp(1.0, -static_cast<int>(i % 1000)); },
              [](std::size_t i, std::size_t j) {
                return (j == 0 ? 1 : -1) * std::ldexp(1.0, -static_cast<int>(i * 7 % 1000));
              }),
          low, high);
  }
}

TEST_CASE("least of rows: no spread known, no errors at all, errors of one value, no columns") {
  const Rows rows(
      9000, 2, [](std::size_t i) { return 1 + 1e-3 * static_cast<double>(i % 77); },
      [](std::size_t i, std::size_t j) {
        return std::sin(static_cast<double>(i) * (j == 0 ? 0.7 : 1.3));
      });
  check(rows, {-0.1, -0.1}, {0.1, 0.1}, 0.0);
  check(rows, {0, 0}, {0, 0});
  check(rows, {0.05, -0.02}, {0.05, -0.02});
  check(Rows(
            9000, 0, [](std::size_t i) { return std::cos(static_cast<double>(i)); },
            [](std::size_t, std::size_t) { return 0.0; }),
        {}, {});
}

TEST_CASE("least of rows: the same rows kept and the same answers on one and on four threads") {
  std::mt19937 random(23);
  std::uniform_real_distribution<double> any(-1, 1);
  const Rows rows(
      60000, 3, [&](std::size_t) { return 1 + 0.1 * any(random); },
      [&](std::size_t, std::size_t) { return any(random); });
  const std::vector<double> usual(3, 0.1), low(3, -0.2), high(3, 0.2);
  const auto on = [&](std::size_t threads) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    const LinearMinTree tree(rows.w, rows.c, 3, {usual, low, high}, {});
    std::vector<double> found{static_cast<double>(tree.rows())};
    std::mt19937 same(29);
    for (int k = 0; k < 300; ++k) {
      const std::array<double, 3> e{0.2 * any(same), 0.2 * any(same), 0.2 * any(same)};
      found.push_back(tree.least(e, 1e300));
    }
    return found;
  };
  CHECK(on(1) == on(4));
}
