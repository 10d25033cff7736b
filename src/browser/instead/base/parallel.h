// base/parallel.h where there is one thread: the same idioms, one block after the other.
#pragma once

#include "base/run_context.h"

#include <algorithm>
#include <cstddef>

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
