// Numbers as little-endian bytes, whatever the machine: PLY, GLB and the page ask for that.
#pragma once

#include <bit>
#include <concepts>
#include <cstdint>

namespace leastwall {

/// Appends `value` to a string or a vector of bytes.
template <std::integral Number, class Bytes> void append_le(Bytes& out, Number value) {
  const auto bits = static_cast<std::uint64_t>(value);
  for (unsigned i = 0; i < sizeof(Number); ++i)
    out.push_back(static_cast<typename Bytes::value_type>(bits >> (8 * i) & 0xff));
}

template <class Bytes> void append_le(Bytes& out, float value) {
  append_le(out, std::bit_cast<std::uint32_t>(value));
}

} // namespace leastwall
