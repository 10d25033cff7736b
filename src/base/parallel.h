// The parallel idioms: a loop over blocks of indices in which each body writes its own slots,
// things done at once, and sorting. Nothing is summed across threads (sum_of_blocks.h joins in
// order), so results do not depend on the number of threads.
#pragma once

#include "base/run_context.h"
#include "base/tsan_annotations.h"

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>
#include <tbb/parallel_invoke.h>
#include <tbb/parallel_sort.h>
#include <tbb/task_arena.h>
#include <tbb/task_group.h>
#include <vector>

namespace leastwall {

/// Inside both_at_once() whose other side has thrown, the task library leaves loops without having
/// run all of them: what comes after must not go on as if they were done. The other side's
/// exception is the one that the caller gets.
inline void throw_if_abandoned() {
  if (tbb::is_current_task_group_canceling())
    throw Cancelled();
}

/// Calls body(begin, end) for consecutive blocks of [0, n) of at most `grain` indices; blocks are
/// always cut at multiples of `grain`. Serial when one block is enough. Throws Cancelled when
/// `run` says so or the loop was called off; an exception from a body reaches the caller.
template <class Body>
void for_blocks(std::size_t n, std::size_t grain, const RunContext& run, const Body& body) {
  const std::size_t blocks = (n + grain - 1) / grain;
  if (blocks <= 1) {
    run.check();
    if (n > 0)
      body(std::size_t{0}, n);
    return;
  }
  HandOver handed;
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, blocks, 1),
                    [&](const tbb::blocked_range<std::size_t>& range) {
                      const HandOver::Share share(handed);
                      for (std::size_t b = range.begin(); b != range.end(); ++b) {
                        run.check();
                        body(b * grain, std::min(n, (b + 1) * grain));
                      }
                    });
  throw_if_abandoned();
}

/// Calls both, at once where there are threads for it. An exception from either reaches the caller.
template <class First, class Second> void both_at_once(const First& first, const Second& second) {
  HandOver handed;
  tbb::parallel_invoke(
      [&] {
        const HandOver::Share share(handed);
        first();
      },
      [&] {
        const HandOver::Share share(handed);
        second();
      });
  throw_if_abandoned();
}

/// body(i) for all of [0, n), several at once where there are threads. While a body waits for what
/// it runs in parallel its thread takes up no other i. After one has thrown no further ones begin;
/// of those that threw the exception of the lowest i reaches the caller.
template <class Body> void each_by_itself(std::size_t n, const RunContext& run, const Body& body) {
  std::vector<std::exception_ptr> failed(n);
  std::atomic<bool> stop = false;
  for_blocks(n, 1, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end && !stop; ++i)
      tbb::this_task_arena::isolate([&] {
        try {
          body(i);
        } catch (...) {
          failed[i] = std::current_exception();
          stop = true;
        }
      });
  });
  for (const std::exception_ptr& f : failed)
    if (f)
      std::rethrow_exception(f);
}

/// Sorts by <, which must tell any two elements apart, so that the order is the only one.
template <class Iterator> void sort_in_parallel(Iterator first, Iterator last) {
#if defined(__SANITIZE_THREAD__) // which cannot see how the library hands parts over
  std::sort(first, last);
#else
  tbb::parallel_sort(first, last);
#endif
}

} // namespace leastwall
