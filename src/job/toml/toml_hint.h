// What is likely wrong in a line that is no TOML.
#pragma once

#include <string>
#include <string_view>

namespace leastwall {

/// What to write instead of `line`: a path with / for \, a decimal point for a comma, a length with
/// its unit in quotes, the digit 0 for the letter O. Empty when none of these is there.
std::string toml_hint(std::string_view line);

} // namespace leastwall
