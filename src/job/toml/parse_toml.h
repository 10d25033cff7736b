// TOML text to a tree of values with line numbers (TOML 1.0.0, toml.io).
#pragma once

#include "job/toml/job_node.h"

#include <string_view>

namespace leastwall {

/// The whole file as one table. `file` is the name for messages. Throws InputError
/// "FILE:LINE: ..." when the text is not TOML, is larger than 1 MiB, has a line longer than 4000
/// bytes, or nests deeper than 16.
JobNode parse_toml(std::string_view text, std::string_view file);

} // namespace leastwall
