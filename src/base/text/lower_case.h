// Text with its Latin capitals as small letters, whatever the locale.
#pragma once

#include <string>
#include <string_view>

namespace leastwall {

/// A to Z alone; all other bytes as they are.
inline std::string lower_case(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z')
      c = static_cast<char>(c - 'A' + 'a');
  return out;
}

} // namespace leastwall
