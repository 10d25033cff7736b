// Random numbers that are a function of (seed, trial, cause): no state, so any thread may draw any
// trial in any order and the answer stays the same.
#pragma once

#include <cstdint>
#include <string_view>

namespace leastwall {

/// Names a stream: the same cause draws the same numbers in two set-ups, so that comparing them
/// compares the set-ups and not the luck. (FNV-1a, 64 bits.)
std::uint64_t stream_of(std::string_view name);

/// Uniform in (0, 1), 53 bits, never 0 or 1. The three numbers are mixed by the finaliser of
/// SplitMix64 (Steele, Lea, Flood 2014), one after the other.
double uniform_draw(std::uint64_t seed, std::uint64_t trial, std::uint64_t stream,
                    std::uint64_t which);

/// One of many streams under one name: part 0, 1, 2, ...
std::uint64_t stream_of_part(std::uint64_t stream, std::uint32_t part);

/// uniform_draw in two steps: what seed and stream come to, and the draw from there.
std::uint64_t stream_start(std::uint64_t seed, std::uint64_t stream);
double uniform_draw_from(std::uint64_t start, std::uint64_t trial, std::uint64_t which);

/// Standard normal from two uniform draws (Box and Muller 1958).
double normal_draw(double u1, double u2);

} // namespace leastwall
