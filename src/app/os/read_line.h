// Lines that somebody types, or that come through a pipe.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

namespace leastwall {

/// Longest line that `read_line` takes, in bytes.
inline constexpr std::size_t kLongestLine = 4096;

/// The next line of standard input without its end; absent at its end. Nothing is read ahead. A
/// stop asked for ends the wait (crash_handler.h). Throws InputError for a line that is longer
/// than kLongestLine or when standard input cannot be read.
std::optional<std::string> read_line();

} // namespace leastwall
