// Work, counted where it is done: boxes and facets that searches have looked at.
//
// Every stage stops at a number of such steps, not at a time, so that the answer is the same on any
// machine and any number of threads, and a test can hold it.
#pragma once

#include <atomic>
#include <cstdint>

namespace leastwall {

/// Steps of this thread since it began.
inline thread_local std::uint64_t steps_of_thread = 0;

inline void count_steps(std::uint64_t steps) {
  steps_of_thread += steps;
}

/// Adds up steps of several threads. A sum of whole numbers, so their order does not matter.
class StepCount {
 public:
  std::uint64_t total() const { return total_.load(std::memory_order_relaxed); }

  /// Counts the steps of this thread while it lives: one for each block of a loop.
  class Span {
   public:
    explicit Span(StepCount& to) : to_(to), before_(steps_of_thread) {}
    ~Span() { to_.total_.fetch_add(steps_of_thread - before_, std::memory_order_relaxed); }
    Span(const Span&) = delete;
    Span& operator=(const Span&) = delete;

   private:
    StepCount& to_;
    std::uint64_t before_;
  };

 private:
  std::atomic<std::uint64_t> total_{0};
};

} // namespace leastwall
