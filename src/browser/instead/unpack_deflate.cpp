// mesh/syntax/unpack_deflate.h without zlib.
#include "mesh/syntax/unpack_deflate.h"

#include "browser/instead/inflate.h"

#include <array>

namespace leastwall {
namespace {

/// Of every byte; IEEE 802.3, 3.2.9, lowest bit first.
std::array<std::uint32_t, 256> checksums() {
  std::array<std::uint32_t, 256> table{};
  for (std::uint32_t i = 0; i < 256; ++i) {
    std::uint32_t c = i;
    for (int bit = 0; bit < 8; ++bit)
      c = (c & 1) != 0 ? c >> 1 ^ 0xedb88320u : c >> 1;
    table[i] = c;
  }
  return table;
}

} // namespace

Unpacked unpack_deflate(std::string_view packed,
                        const std::function<void(std::string_view)>& take) {
  return inflate(packed, take);
}

std::uint32_t crc32_of(std::uint32_t before, std::string_view bytes) {
  static const std::array<std::uint32_t, 256> table = checksums();
  std::uint32_t c = ~before;
  for (const char b : bytes)
    c = table[(c ^ static_cast<unsigned char>(b)) & 0xff] ^ c >> 8;
  return ~c;
}

} // namespace leastwall
