// The set-up behind the quick flags, so that a quick look and a job file are one computation.
#pragma once

#include "base/assumption.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

struct QuickFlags {
  double z_zero_mm = 0;       ///< each touch-off is within +- this
  double bed_flatness_mm = 0; ///< highest minus lowest place of the bed
};

/// Both sides zeroed on top of the board, board exactly as thick as the programs assume, flip
/// exact: two touch-offs and the bed are the only errors. Throws InputError for a negative or
/// non-finite value, naming the flag. Appends what it takes for granted to `assumptions`.
Setup quick_setup(const QuickFlags& flags, std::vector<Assumption>& assumptions);

} // namespace leastwall
