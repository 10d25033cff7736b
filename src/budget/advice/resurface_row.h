// What resurfacing the spoilboard would do for one piece, as reports show it.
#pragma once

#include "base/notice.h"
#include "budget/effects/verdict.h"
#include "setup/setup.h"

#include <optional>
#include <string>
#include <vector>

namespace leastwall {

struct ResurfaceRow {
  bool advised = false; ///< the verdict gets better by it, and no free change gets it as far
  bool possible = true; ///< enough spoilboard, clear of screws, deep enough dowel holes
  Verdict verdict_now = Verdict::safe;
  Verdict verdict_after = Verdict::safe; ///< both sides cut on the resurfaced bed
  /// Side A on the bed as it is, side B on the resurfaced one; absent: not known.
  std::optional<Verdict> verdict_between;
  /// The best that one change that costs nothing gives; absent when there is none that helps.
  std::optional<Verdict> verdict_free;
  std::string free_change;
  double gain_mm = 0;        ///< of the wall that can be counted on, both sides on the new surface
  double flatness_mm = 0;    ///< highest minus lowest place of the bed now, under both footprints
  double residual_mm = 0;    ///< the same after surfacing
  std::string residual_from; ///< where that number comes from, in words
  double depth_mm = 0;       ///< to take, measured from the highest place
  int passes = 1;
  double depth_per_pass_mm = 0;
  /// What is left then; absent where it is not stated.
  struct Left {
    std::optional<double> board_mm;       ///< spoilboard, at its thinnest
    std::optional<double> dowel_holes_mm; ///< depth of the dowel holes in the bed
    std::optional<double> screws_mm;      ///< from the new surface down to the screw heads
  } left;
  /// To be surfaced, bed frame: both footprints, and around them a cutter's radius where stated.
  Footprint area;
  std::vector<Notice> notices; ///< what to mind; codes start with "resurface-"
};

} // namespace leastwall
