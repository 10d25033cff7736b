// Sums over blocks of indices, joined in their order.
#pragma once

#include "base/parallel.h"

#include <cstddef>
#include <vector>

namespace leastwall {

/// part(begin, end) of every block of [0, n), joined from the first to the last: join(sum, part)
/// adds a part to the sum. The blocks are those of for_blocks, so rounding is the same whatever the
/// number of threads. `none` is the sum of nothing.
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

} // namespace leastwall
