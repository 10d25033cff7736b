#include "base/text/plain_line.h"

#include <algorithm>

namespace leastwall {
namespace {

/// Length of the character at the start of `text`; 0 when it is not UTF-8.
std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80)
    return 1;
  const std::size_t length = first >= 0xC2 && first <= 0xDF   ? 2
                             : first >= 0xE0 && first <= 0xEF ? 3
                             : first >= 0xF0 && first <= 0xF4 ? 4
                                                              : 0;
  if (length == 0 || text.size() < length)
    return 0;
  for (std::size_t i = 1; i < length; ++i)
    if (byte(i) < 0x80 || byte(i) > 0xBF)
      return 0;
  // Too long a form of a smaller number, halves of pairs, beyond the last character.
  const bool bad = (first == 0xE0 && byte(1) < 0xA0) || (first == 0xED && byte(1) > 0x9F) ||
                   (first == 0xF0 && byte(1) < 0x90) || (first == 0xF4 && byte(1) > 0x8F);
  return bad ? 0 : length;
}

bool is_control(std::string_view character) {
  const auto first = static_cast<unsigned char>(character[0]);
  if (character.size() == 1)
    return first < 0x20 || first == 0x7F;
  return (first == 0xC2 && static_cast<unsigned char>(character[1]) <= 0x9F) ||
         character == "\u2028" || character == "\u2029";
}

} // namespace

std::string plain_line(std::string_view text, std::size_t most) {
  std::string line;
  line.reserve(std::min(text.size(), most) + 3);
  while (!text.empty()) {
    const std::size_t length = character_length(text);
    const std::size_t step = std::max<std::size_t>(length, 1);
    const bool plain = length > 0 && !is_control(text.substr(0, length));
    if (line.size() + (plain ? length : 1) > most)
      return line + "...";
    if (plain)
      line += text.substr(0, length);
    else
      line += '?';
    text.remove_prefix(step);
  }
  return line;
}

} // namespace leastwall
