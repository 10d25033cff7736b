#include "base/text/code_point.h"

#include <array>
#include <cstddef>

namespace leastwall {

CodePoint first_code_point(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const CodePoint wrong{text.substr(0, 1), std::nullopt};
  const unsigned char lead = byte(0);
  if (lead < 0x80)
    return {text.substr(0, 1), lead};
  const std::size_t size = lead >= 0xF0 && lead <= 0xF4   ? 4
                           : lead >= 0xE0 && lead <= 0xEF ? 3
                           : lead >= 0xC2 && lead <= 0xDF ? 2
                                                          : 0;
  if (size == 0 || size > text.size())
    return wrong;
  std::uint32_t code = lead & (0xFFu >> (size + 1));
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte(i) & 0xC0) != 0x80)
      return wrong;
    code = (code << 6) | (byte(i) & 0x3Fu);
  }
  constexpr std::array<std::uint32_t, 5> kMin{0, 0, 0x80, 0x800, 0x10000};
  if (code < kMin[size] || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
    return wrong;
  return {text.substr(0, size), code};
}

} // namespace leastwall
