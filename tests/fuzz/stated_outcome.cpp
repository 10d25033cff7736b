#include "stated_outcome.h"

#include <cstdio>
#include <cstdlib>

namespace leastwall::fuzz {
namespace {

/// The character at the start of `text`, taken off it; -1 for what is not UTF-8. Written from the
/// grammar of RFC 3629, section 4, apart from the program's own reader.
long take_character(std::string_view& text) {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<long>(static_cast<unsigned char>(text[i])) : -1;
  };
  const auto tail = [&](std::size_t i) { return byte(i) >= 0x80 && byte(i) <= 0xBF; };
  const long lead = byte(0);
  if (lead < 0x80) {
    text.remove_prefix(1);
    return lead;
  }
  static constexpr long kMin[] = {0, 0, 0x80, 0x800, 0x10000};
  const std::size_t length = lead < 0xC0   ? 0
                             : lead < 0xE0 ? 2
                             : lead < 0xF0 ? 3
                             : lead < 0xF8 ? 4
                                           : 0;
  if (length == 0)
    return -1;
  long value = lead & (0x7F >> length);
  for (std::size_t i = 1; i < length; ++i) {
    if (!tail(i))
      return -1;
    value = (value << 6) | (byte(i) & 0x3F);
  }
  text.remove_prefix(length);
  const bool half_of_pair = value >= 0xD800 && value <= 0xDFFF;
  return value < kMin[length] || value > 0x10FFFF || half_of_pair ? -1 : value;
}

} // namespace

void require(bool holds, std::string_view what) {
  if (holds)
    return;
  std::fprintf(stderr, "NOT SO: %.*s\n", static_cast<int>(what.size()), what.data());
  std::abort();
}

bool is_plain_line(std::string_view text) {
  while (!text.empty()) {
    const long c = take_character(text);
    if (c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029)
      return false;
  }
  return true;
}

void require_plain(const std::vector<Notice>& notices) {
  for (const Notice& notice : notices) {
    require(!notice.code.empty() && is_plain_line(notice.code), "a notice has a code");
    require(!notice.text.empty() && is_plain_line(notice.text), "a notice is one plain line");
  }
}

} // namespace leastwall::fuzz
