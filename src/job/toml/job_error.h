// Faults of a job file: "FILE:LINE: what is wrong; what to do".
#pragma once

#include "base/errors.h"

#include <cstddef>
#include <fmt/format.h>
#include <string>
#include <string_view>

namespace leastwall {

/// Text of a user made fit for one line of a message: control characters become "?", and what is
/// longer than `most` bytes is cut (never inside a UTF-8 character) and ends in "...".
std::string shown(std::string_view text, std::size_t most = 80);

/// The error to throw for line `line` (counted from 1).
InputError job_error(std::string_view file, int line, std::string_view text);

} // namespace leastwall
