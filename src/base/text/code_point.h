// UTF-8, a code point at a time.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace leastwall {

struct CodePoint {
  std::string_view bytes;
  std::optional<std::uint32_t> value; ///< absent: a byte that is not UTF-8, alone
};

/// The first of non-empty `text` (RFC 3629: no overlong forms, no surrogates, up to U+10FFFF).
CodePoint first_code_point(std::string_view text);

} // namespace leastwall
