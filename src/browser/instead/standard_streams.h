// What would be printed, kept for the caller.
#pragma once

#include <string>

namespace leastwall {

/// What was printed on stderr since the last call, without the line end.
std::string take_printed();

} // namespace leastwall
