#include "base/text/wrap_text.h"

#include "base/text/code_point.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <vector>

namespace leastwall {
namespace {

struct Glyph {
  std::string_view bytes;
  int columns = 1;
  bool valid = true;
};

struct CodeRange {
  std::uint32_t first, last;
};

constexpr std::array<CodeRange, 5> kCombining{
    {{0x300, 0x36F}, {0x1AB0, 0x1AFF}, {0x20D0, 0x20FF}, {0x200B, 0x200F}, {0xFE00, 0xFE0F}}};
constexpr std::array<CodeRange, 8> kWide{{{0x1100, 0x115F},
                                          {0x2E80, 0xA4CF},
                                          {0xAC00, 0xD7A3},
                                          {0xF900, 0xFAFF},
                                          {0xFE30, 0xFE6F},
                                          {0xFF00, 0xFF60},
                                          {0x1F300, 0x1FAFF},
                                          {0x20000, 0x3FFFD}}};

template <std::size_t N> bool within(std::uint32_t code, const std::array<CodeRange, N>& ranges) {
  return std::ranges::any_of(ranges,
                             [code](CodeRange r) { return code >= r.first && code <= r.last; });
}

/// The character at the start of non-empty `text`; an invalid byte is a glyph of its own.
Glyph first_glyph(std::string_view text) {
  const CodePoint point = first_code_point(text);
  if (!point.value)
    return {point.bytes, 1, false};
  const std::uint32_t code = *point.value;
  if (code < 0x80)
    return {point.bytes, 1, code >= 0x20 && code != 0x7F};
  const bool control = code < 0xA0 || (code >= 0x202A && code <= 0x202E) ||
                       (code >= 0x2066 && code <= 0x2069) || code == 0x2028 || code == 0x2029;
  // Stand for no character (Unicode Standard, 23.7); XML and drawing libraries refuse them.
  const bool none = (code & 0xFFFE) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF);
  const int columns = within(code, kCombining) ? 0 : within(code, kWide) ? 2 : 1;
  return {point.bytes, columns, !control && !none};
}

std::vector<Glyph> glyphs(std::string_view text) {
  std::vector<Glyph> out;
  while (!text.empty()) {
    out.push_back(first_glyph(text));
    text.remove_prefix(out.back().bytes.size());
  }
  return out;
}

std::vector<std::string_view> words(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  std::vector<std::string_view> out;
  for (std::size_t begin = text.find_first_not_of(kBlank); begin != std::string_view::npos;) {
    const std::size_t end = std::min(text.find_first_of(kBlank, begin), text.size());
    out.push_back(text.substr(begin, end - begin));
    begin = text.find_first_not_of(kBlank, end);
  }
  return out;
}

} // namespace

int text_columns(std::string_view text) {
  int columns = 0;
  for (const Glyph& g : glyphs(text))
    columns += g.columns;
  return columns;
}

std::string printable(std::string_view text) {
  std::string out;
  for (const Glyph& g : glyphs(text)) {
    if (g.valid)
      out += g.bytes;
    else
      out += g.bytes == "\n" || g.bytes == "\t" ? " " : "?";
  }
  return out;
}

std::string wrap_text(std::string_view text, int width, std::string_view first) {
  const int indent = text_columns(first);
  const int room = std::max(1, width - indent);
  std::string out(first);
  std::string hang(static_cast<std::size_t>(indent) + 1, ' ');
  hang.front() = '\n';
  int used = 0;
  for (const std::string_view word : words(text)) {
    const int columns = text_columns(word);
    if (used > 0 && used + 1 + columns <= room) {
      out += ' ';
      ++used;
    } else if (used > 0) {
      out += hang;
      used = 0;
    }
    for (const Glyph& g : glyphs(word)) {
      if (used > 0 && used + g.columns > room) {
        out += hang;
        used = 0;
      }
      out += g.bytes;
      used += g.columns;
    }
  }
  out += '\n';
  return out;
}

} // namespace leastwall
