// What the carver could do instead.
#pragma once

#include "budget/advice/job_change.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

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
  std::vector<JobChange> set;  ///< the same change to the job, mm
  bool only_if_needed = false; ///< shown only if it makes the wall safe and nothing free does
};

/// Every change worth trying, in a fixed order: the other zero pairs, touch points (at the thinnest
/// place, the middle of the part, where the walls come out thickest, the same point on both sides),
/// the other flip line, every bit touched again instead of a tool setter, more left for finishing;
/// then better touch-offs, tighter dowels, a measured board, programs made for the measured
/// thickness, the board pressed flat, a resurfaced bed. Only those that change something.
/// `setup.board.footprint` must be set, `board_stated`: by the job; `thinnest` is the thinnest
/// place, model x, y. A zero that is touched elsewhere names a place that can be touched
/// (touch_search.h) and is computed there; where there is none, it is not offered. Neither is a
/// flip line without room for the pins. What the pocket states in a table of its own is changed
/// there.
std::vector<Alternative> alternatives_of(const Setup& setup, Point2 thinnest,
                                         std::span<const WallSample> samples,
                                         bool board_stated = true);

} // namespace leastwall
