// A text as a value of a job file.
#pragma once

#include <string>
#include <string_view>

namespace leastwall {

/// In quotes (TOML 1.0.0, basic strings).
std::string in_quotes(std::string_view text);

} // namespace leastwall
