// How many trials there may be, and the memory they take.
#pragma once

#include "setup/setup.h"
#include "space/box.h"

#include <cstdint>

namespace leastwall {

/// More are refused wherever a number of trials is read: at a million the chance of 1 in 20 is
/// known to within 1 part in 100, and the draws of a full set-up take some 300 MB.
inline constexpr std::uint64_t kMaxTrials = 1'000'000;

/// Bytes that the trials of this set-up take at most at one time: a double for every scalar error
/// of every trial, and what is kept beside them for each trial. `box` as for max_thinning_mm().
/// Throws InputError as causes_of does.
std::uint64_t trial_memory_bytes(const Setup& setup, const Box& box, std::uint64_t trials);

} // namespace leastwall
