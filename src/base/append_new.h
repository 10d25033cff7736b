// Lists of what is told: each thing once.
#pragma once

#include <algorithm>
#include <vector>

namespace leastwall {

/// Appends what `to` does not hold yet, in order.
template <class T> void append_new(std::vector<T>& to, const std::vector<T>& from) {
  for (const T& item : from)
    if (std::find(to.begin(), to.end(), item) == to.end())
      to.push_back(item);
}

} // namespace leastwall
