// What was not stated and was taken for granted.
#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace leastwall {

/// Adds a line of what was assumed, unless it is there already.
inline void note(std::vector<std::string>& assumptions, std::string line) {
  if (std::find(assumptions.begin(), assumptions.end(), line) == assumptions.end())
    assumptions.push_back(std::move(line));
}

} // namespace leastwall
