// The two set-ups of the board.
#pragma once

namespace leastwall {

/// A: pocket face up, cut first. B: flipped, skin face up, pocket face on the bed.
enum class Side { a, b };

} // namespace leastwall
