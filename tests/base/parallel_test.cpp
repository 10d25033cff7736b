// Sums over blocks against plain loops, and the same to the last bit on any number of threads.
#include "base/parallel.h"
#include "base/sum_of_blocks.h"

#include "base/errors.h"
#include "base/uninitialized_vector.h"

#include <atomic>
#include <cmath>
#include <doctest/doctest.h>
#include <numeric>
#include <string>
#include <tbb/global_control.h>

using namespace leastwall;

namespace {

double sum(const std::vector<double>& values, std::size_t grain) {
  return sum_of_blocks(
      values.size(), grain, {}, 0.0,
      [&values](std::size_t begin, std::size_t end) {
        return std::accumulate(values.begin() + static_cast<std::ptrdiff_t>(begin),
                               values.begin() + static_cast<std::ptrdiff_t>(end), 0.0);
      },
      [](double& all, double part) { all += part; });
}

} // namespace

TEST_CASE("sums over blocks: whole numbers exactly, nothing left out at the ends") {
  for (const std::size_t n : {0u, 1u, 7u, 8u, 9u, 1000u}) {
    std::vector<double> values(n);
    std::iota(values.begin(), values.end(), 1.0);
    for (const std::size_t grain : {1u, 8u, 5000u})
      CHECK(sum(values, grain) == static_cast<double>(n * (n + 1) / 2)); // Gauss
  }
}

TEST_CASE("sums over blocks round alike on one thread and on many") {
  std::vector<double> values(100000);
  for (std::size_t i = 0; i < values.size(); ++i)
    values[i] = std::sin(static_cast<double>(i)) * 1e3;
  const double many = sum(values, 64);
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  CHECK(sum(values, 64) == many);
}

TEST_CASE("blocks are joined in their order") {
  const auto text = sum_of_blocks(
      26, 4, {}, std::string(),
      [](std::size_t begin, std::size_t end) {
        std::string part;
        for (std::size_t i = begin; i < end; ++i)
          part += static_cast<char>('a' + i);
        return part;
      },
      [](std::string& all, const std::string& part) { all += part; });
  CHECK(text == "abcdefghijklmnopqrstuvwxyz");
}

TEST_CASE("a raw vector keeps what it is given and grows by what is not written yet") {
  UninitializedVector<int> raw(3, 7);
  raw.push_back(8);
  CHECK(raw == UninitializedVector<int>{7, 7, 7, 8});
  const int* before = nullptr;
  raw.reserve(100);
  before = raw.data();
  raw.resize(100); // no value, and no move
  CHECK(raw.data() == before);
  CHECK(raw[3] == 8);
  // Types with an initialiser get it.
  struct Set {
    int value = 5;
  };
  CHECK(UninitializedVector<Set>(4)[3].value == 5);
}

// As where one of both_at_once() throws: the library calls off what the other has begun.
TEST_CASE("a loop that is called off is never left half done as if it were whole") {
  tbb::task_group_context context;
  std::vector<int> values(4096, 0);
  bool told = false;
  const auto loop = [&](const tbb::blocked_range<int>&) {
    context.cancel_group_execution();
    try {
      for_blocks(values.size(), 1, {}, [&](std::size_t begin, std::size_t) { values[begin] = 1; });
    } catch (const Cancelled&) {
      told = true;
    }
  };
  tbb::parallel_for(tbb::blocked_range<int>(0, 1), loop, context);
  CHECK((told || std::accumulate(values.begin(), values.end(), 0) == 4096));
}

TEST_CASE("the exception that is passed on is that of the side that failed first") {
  for (int round = 0; round < 100; ++round)
    CHECK_THROWS_AS(both_at_once(
                        [] {
                          std::vector<int> values(4096, 0);
                          for_blocks(values.size(), 1, {},
                                     [&](std::size_t begin, std::size_t) { values[begin] = 1; });
                        },
                        [] { throw InputError("the other side"); }),
                    InputError);
}

TEST_CASE("each by itself: all are done, also those that loop in parallel themselves") {
  constexpr std::size_t n = 40, inner = 5000;
  std::vector<std::vector<int>> done(n, std::vector<int>(inner, 0));
  each_by_itself(n, {}, [&](std::size_t i) {
    for_blocks(inner, 16, {}, [&](std::size_t begin, std::size_t end) {
      for (std::size_t k = begin; k < end; ++k)
        ++done[i][k];
    });
  });
  for (const std::vector<int>& one : done)
    CHECK(std::accumulate(one.begin(), one.end(), std::size_t{0}) == inner);
}

TEST_CASE("each by itself: a thread takes up no other one while it waits") {
  std::atomic<bool> nested = false;
  each_by_itself(64, {}, [&](std::size_t) {
    thread_local int deep = 0;
    if (++deep > 1)
      nested = true;
    for_blocks(400, 1, {}, [&](std::size_t, std::size_t) {
      double x = 1;
      for (int k = 0; k < 2000; ++k)
        x = std::sqrt(x + k);
      if (!(x > 0))
        nested = true;
    });
    --deep;
  });
  CHECK_FALSE(nested);
}

TEST_CASE("each by itself: the first of several that throw is told") {
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  int begun = 0;
  CHECK_THROWS_WITH(each_by_itself(9, {},
                                   [&](std::size_t i) {
                                     ++begun;
                                     if (i >= 3)
                                       throw RunError("no " + std::to_string(i));
                                   }),
                    "no 3");
  CHECK(begun == 4);
}
