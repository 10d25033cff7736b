// What is known about a cause, in a few words.
#pragma once

#include "setup/cause.h"

#include <string>

namespace leastwall {

/// E.g. "+-0.050 mm", "u 0.020 mm", "0 to 0.030 mm", "+0.300 mm", "0.012 mm any way",
/// "from readings".
std::string known_words(const Cause& cause);

} // namespace leastwall
