// An edge as one number.
#pragma once

#include <algorithm>
#include <cstdint>

namespace leastwall {

/// The two ends of an edge, whichever comes first: the smaller in the upper half.
inline std::uint64_t edge_key(std::uint32_t a, std::uint32_t b) {
  return (std::uint64_t{std::min(a, b)} << 32) | std::max(a, b);
}

} // namespace leastwall
