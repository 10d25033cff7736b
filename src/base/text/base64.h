// Bytes as text (RFC 4648, section 4).
#pragma once

#include <cstdint>
#include <span>
#include <string>

namespace leastwall {

/// With padding, without line breaks.
std::string base64(std::span<const std::uint8_t> bytes);

} // namespace leastwall
