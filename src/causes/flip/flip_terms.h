// Small pieces that the causes of the flip share.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "causes/model/cuts.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// Part of n across the flip line.
inline double n_across(const Flip& flip, const WallSample& p) {
  return flip.line == FlipLine::along_y ? p.n.x : p.n.y;
}

/// Part of n along the flip line.
inline double n_along(const Flip& flip, const WallSample& p) {
  return flip.line == FlipLine::along_y ? p.n.y : p.n.x;
}

/// Middle of the two dowels; when not stated, on the flip line beside the middle of the footprint,
/// and then `assumptions` says so.
Point2 middle_of_pins(const Setup& setup, std::vector<Assumption>& assumptions);

/// What puts the board out of place under a cut, against the board's first set-up.
enum class Seat {
  first,    ///< nothing: all else is told against it
  put_back, ///< taken off and put back on the same pins or edges, the same face up
  turned    ///< turned about the flip line
};
Seat seat_of(const CutId& cut);

/// Whether both cuts are made in one set-up, so that what puts the board out of place moves both.
bool one_set_up(const Setup& setup);

/// A cause that puts the board out of place under this cut, still without its sensitivity.
Cause flip_cause(CauseKind kind, const CutView& cut, Distribution distribution, double size);

} // namespace leastwall
