#include "base/text/base64.h"

namespace leastwall {

std::string base64(std::span<const std::uint8_t> bytes) {
  constexpr char kDigits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t left = bytes.size() - i;
    std::uint32_t three = std::uint32_t{bytes[i]} << 16;
    if (left > 1)
      three |= std::uint32_t{bytes[i + 1]} << 8;
    if (left > 2)
      three |= bytes[i + 2];
    for (std::size_t d = 0; d < 4; ++d)
      out += d <= left ? kDigits[three >> (18 - 6 * d) & 63] : '=';
  }
  return out;
}

} // namespace leastwall
