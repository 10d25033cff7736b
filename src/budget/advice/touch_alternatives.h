// What the carver could do instead about zeros, touch points and the flip line; all of it is free.
#pragma once

#include "budget/advice/alternatives.h"

#include <span>
#include <vector>

namespace leastwall {

/// The part of alternatives_of() that needs a place to touch: each names the place, and is computed
/// with the datum touched there. Not offered where no place is known to serve.
std::vector<Alternative> touch_alternatives(const Setup& setup, Point2 thinnest,
                                            std::span<const WallSample> samples, bool board_stated);

} // namespace leastwall
