// Small pieces that the causes of the flip share.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
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

/// A cause of the whole flip, still without its sensitivity.
Cause flip_cause(const CauseId& id, Distribution distribution, double size);

} // namespace leastwall
