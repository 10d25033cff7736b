// Text from outside made fit for one line of a message.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace leastwall {

/// `text` as UTF-8 without anything that could break a line or steer a terminal: control characters
/// (U+0000 to U+001F, U+007F to U+009F, U+2028, U+2029) and bytes that are not UTF-8 (The Unicode
/// Standard, table 3-7) become "?", one for each character or byte. What is longer than `most`
/// bytes is cut, never inside a character, and ends in "...".
std::string plain_line(std::string_view text, std::size_t most = 400);

} // namespace leastwall
