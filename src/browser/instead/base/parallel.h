// base/parallel.h where there is one thread: the same idioms, one block after the other.
#pragma once

#include "base/run_context.h"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace leastwall {

/// Calls body(begin, end) for consecutive blocks of [0, n) of at most `grain` indices, from the
/// first on. Throws Cancelled when `run` says so.
template <class Body>
void for_blocks(std::size_t n, std::size_t grain, const RunContext& run, const Body& body) {
  const std::size_t blocks = (n + grain - 1) / grain;
  run.check();
  for (std::size_t b = 0; b < blocks; ++b) {
    run.check();
    body(b * grain, std::min(n, (b + 1) * grain));
  }
}

/// part(begin, end) of every block of [0, n), joined from the first to the last: join(sum, part)
/// adds a part to the sum. `none` is the sum of nothing.
template <class T, class Part, class Join>
T sum_of_blocks(std::size_t n, std::size_t grain, const RunContext& run, T none, const Part& part,
                const Join& join) {
  std::vector<T> parts((n + grain - 1) / grain, none);
  for_blocks(n, grain, run,
             [&](std::size_t begin, std::size_t end) { parts[begin / grain] = part(begin, end); });
  for (const T& p : parts)
    join(none, p);
  return none;
}

/// Calls both, the first one first.
template <class First, class Second> void both_at_once(const First& first, const Second& second) {
  first();
  second();
}

/// body(i) for all of [0, n), from the first on.
template <class Body> void each_by_itself(std::size_t n, const RunContext& run, const Body& body) {
  for (std::size_t i = 0; i < n; ++i) {
    run.check();
    body(i);
  }
}

/// Sorts by <, which must tell any two elements apart, so that the order is the only one.
template <class Iterator> void sort_in_parallel(Iterator first, Iterator last) {
  std::sort(first, last);
}

} // namespace leastwall
