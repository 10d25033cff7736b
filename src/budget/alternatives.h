// What the carver could do instead.
#pragma once

#include "setup/setup.h"
#include "wall/wall_map.h"

#include <span>
#include <string>
#include <vector>

namespace leastwall {

enum class Cost { free, work, model };

/// "free", "work", "model": the words in JSON and text.
std::string cost_word(Cost cost);

/// One change to a set-up.
struct Alternative {
  std::string change; ///< one sentence in shop words, without the gain
  Cost cost = Cost::free;
  Setup setup;                 ///< with the change made
  bool only_if_needed = false; ///< shown only if it makes the wall safe and nothing free does
};

/// Every change worth trying, in a fixed order: the other zero pairs, touch points (at the thinnest
/// place, the same point on both sides, the middle of the part), the other flip line, every bit
/// touched again instead of a tool setter, more left for finishing; then better touch-offs, tighter
/// dowels, a measured board, programs made for the measured thickness, the board pressed flat, a
/// resurfaced bed. Only those that change something. `setup.board.footprint` must be set;
/// `thinnest` is the thinnest place, model x, y. Touch points where the part is cut away before the
/// last bit touches, or where the board covers the bed, are not offered (see touch_place.h).
std::vector<Alternative> alternatives_of(const Setup& setup, Point2 thinnest,
                                         std::span<const WallSample> samples);

} // namespace leastwall
