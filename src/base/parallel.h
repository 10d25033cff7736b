// The one parallel idiom: a loop over blocks of indices in which each body writes its own slots.
// Nothing is summed across threads, so results do not depend on the number of threads.
#pragma once

#include "base/run_context.h"

#include <algorithm>
#include <cstddef>
#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

namespace leastwall {

/// Calls body(begin, end) for consecutive blocks of [0, n) of at most `grain` indices; blocks are
/// always cut at multiples of `grain`. Serial when one block is enough. Throws Cancelled when
/// `run` says so; an exception from a body reaches the caller.
template <class Body>
void for_blocks(std::size_t n, std::size_t grain, const RunContext& run, const Body& body) {
  const std::size_t blocks = (n + grain - 1) / grain;
  if (blocks <= 1) {
    run.check();
    if (n > 0)
      body(std::size_t{0}, n);
    return;
  }
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, blocks, 1),
                    [&](const tbb::blocked_range<std::size_t>& range) {
                      for (std::size_t b = range.begin(); b != range.end(); ++b) {
                        run.check();
                        body(b * grain, std::min(n, (b + 1) * grain));
                      }
                    });
}

} // namespace leastwall
