#include "job/toml/quoted_text.h"

#include <fmt/format.h>

namespace leastwall {

std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\')
      out += '\\';
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
      out += fmt::format("\\u{:04X}", static_cast<unsigned char>(c));
    else
      out += c;
  }
  return out + '"';
}

} // namespace leastwall
