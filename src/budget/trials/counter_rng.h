// Random numbers that are a function of (seed, trial, cause): no state, so any thread may draw any
// trial in any order and the answer stays the same.
#pragma once

#include "causes/model/cause_id.h"

#include <cstdint>

namespace leastwall {

/// The stream of a cause: the same cause draws the same numbers in two set-ups, so that comparing
/// them compares the set-ups and not the luck. The numbers of the id are mixed by the finaliser
/// below; no name is in it.
std::uint64_t stream_of(const CauseId& id);

/// Uniform in (0, 1), 53 bits, never 0 or 1. The three numbers are mixed by the finaliser of
/// SplitMix64 (Steele, Lea, Flood 2014), one after the other.
double uniform_draw(std::uint64_t seed, std::uint64_t trial, std::uint64_t stream,
                    std::uint64_t which);

/// One of many streams of one cause: part 0, 1, 2, ...
std::uint64_t stream_of_part(std::uint64_t stream, std::uint32_t part);

/// uniform_draw in two steps: what seed and stream come to, and the draw from there.
std::uint64_t stream_start(std::uint64_t seed, std::uint64_t stream);
double uniform_draw_from(std::uint64_t start, std::uint64_t trial, std::uint64_t which);

} // namespace leastwall
