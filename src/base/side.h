// The two set-ups of the board.
#pragma once

#include <string>

namespace leastwall {

/// A: pocket face up, cut first. B: flipped, skin face up, pocket face on the bed.
enum class Side { a, b };

/// "side A" or "side B".
inline std::string side_text(Side side) {
  return side == Side::a ? "side A" : "side B";
}

} // namespace leastwall
