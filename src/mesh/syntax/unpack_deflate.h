// Deflated bytes and their checksum, as zip archives hold them.
#pragma once

#include <cstdint>
#include <functional>
#include <string_view>

namespace leastwall {

enum class Unpacked { whole, ends_early, damaged };

/// Gives what was deflated to `take` piece by piece; what follows its end in `packed` is not looked
/// at.
Unpacked unpack_deflate(std::string_view packed, const std::function<void(std::string_view)>& take);

/// CRC-32 of `bytes` after others with the checksum `before` (0: none).
std::uint32_t crc32_of(std::uint32_t before, std::string_view bytes);

} // namespace leastwall
