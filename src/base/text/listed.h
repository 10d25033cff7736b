// Names in a sentence.
#pragma once

#include <string>
#include <vector>

namespace leastwall {

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& names);

} // namespace leastwall
