// A value as someone stated it, with the name of its key.
#pragma once

#include <string>

namespace leastwall {

struct StatedKey {
  std::string key;   ///< "side_a.zero", "part left half.pocket candle room.limit"
  std::string value; ///< as text, in the words and the unit of the file
  bool operator==(const StatedKey&) const = default;
};

} // namespace leastwall
