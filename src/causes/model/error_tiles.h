// An error that varies over the board with a stated length.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// Used where the job states no length, mm: about the width of what sands a wall or of a planer's
/// ripple across the grain (a finger, the edge of a pad; common practice). A shorter length has
/// more places that can be thin on their own, so a guess must not be long.
inline constexpr double kVariesOver_mm = 20;

/// More tiles than this on one board are more than trials can draw; the length is then made longer.
inline constexpr std::uint32_t kMaxTiles = 2500;

/// Makes `cause` (its sensitivity stays) vary from place to place: the board's rectangle is cut
/// into squares `length_mm` wide (kVariesOver_mm when not stated), each with an error of its own,
/// drawn from the cause's distribution. Within a square the wall moves as one; two places farther
/// apart than its diagonal are independent, and so are two close ones with an edge between them,
/// which makes a thin wall somewhere more likely, never less. `assumptions` gains a line for a
/// length that was not stated or had to be longer. Without a footprint squares are counted from 0,
/// 0 over a metre.
void vary_over_board(const Setup& setup, std::optional<double> length_mm, const char* what,
                     Cause& cause, std::vector<Assumption>& assumptions);

} // namespace leastwall
