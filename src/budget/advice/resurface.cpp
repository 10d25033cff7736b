#include "budget/advice/resurface.h"

#include "base/assumption.h"
#include "bed/bed_map.h"
#include "causes/causes.h"
#include "setup/place.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

struct Range {
  std::optional<double> low, high;
  bool whole = true; ///< the readings cover all that was asked for

  void add(double z) {
    low = std::min(low.value_or(z), z);
    high = std::max(high.value_or(z), z);
  }
};

/// The surface through the readings is highest and lowest at readings or along the rim.
void add_heights(const BedMap& bed, const Footprint& f, Range& range) {
  for (const Vec3& p : bed.points())
    if (p.x >= f.low.x && p.x <= f.high.x && p.y >= f.low.y && p.y <= f.high.y)
      range.add(p.z);
  constexpr int kSteps = 400;
  for (int i = 0; i <= kSteps; ++i) {
    const double along = static_cast<double>(i) / kSteps;
    const double x = std::lerp(f.low.x, f.high.x, along), y = std::lerp(f.low.y, f.high.y, along);
    for (const Point2 p :
         {Point2{x, f.low.y}, Point2{x, f.high.y}, Point2{f.low.x, y}, Point2{f.high.x, y}}) {
      if (const std::optional<double> z = bed.height_mm(p.x, p.y))
        range.add(*z);
      else
        range.whole = false;
    }
  }
}

Range range_under_board(const Setup& setup) {
  Range range;
  for (const Side side : {Side::a, Side::b})
    add_heights(*setup.bed.readings, footprint_on_bed(setup, side), range);
  if (!range.low) {
    range.add(setup.bed.readings->lowest().z);
    range.add(setup.bed.readings->highest().z);
  }
  return range;
}

Footprint area_to_surface(const Setup& setup) {
  const Footprint a = footprint_on_bed(setup, Side::a), b = footprint_on_bed(setup, Side::b);
  const double more = setup.bed.resurfacing.cutter_mm.value_or(0) / 2;
  return {{std::min(a.low.x, b.low.x) - more, std::min(a.low.y, b.low.y) - more},
          {std::max(a.high.x, b.high.x) + more, std::max(a.high.y, b.high.y) + more}};
}

bool of_bed_under_b(const Cause& c) {
  return c.id.side == Side::b && is_of_bed(c.id.kind);
}

/// Side A on the bed as it is, side B on the new one. What the old bed does to side B gets the size
/// 0 instead of going away: other causes are named by their place in the list.
std::vector<Cause> resurfaced_between(const Setup& setup) {
  std::vector<Assumption> ignored;
  std::vector<Cause> causes = causes_of(setup, ignored);
  for (Cause& c : causes)
    if (of_bed_under_b(c))
      c.size = 0;
  for (const Cause& c : causes_of(with_resurfaced_bed(setup), ignored))
    if (of_bed_under_b(c))
      causes.push_back(c);
  return causes;
}

/// What is left of `have` is too little: under `least`, or nothing.
bool too_little(const std::optional<double>& have, double depth, double least) {
  return have && (*have - depth < least || *have - depth <= 0);
}

struct Obstacles {
  bool board = false, screws = false, dowels = false;
};

Obstacles obstacles(const Resurfacing& r, double depth) {
  return {too_little(r.spoilboard_mm, depth, r.spoilboard_least_mm.value_or(0)),
          too_little(r.screw_depth_mm, depth, 0),
          too_little(r.dowel_hole_mm, depth, r.dowel_hole_least_mm.value_or(0))};
}

void add_what_is_left(const Resurfacing& r, ResurfaceRow& row) {
  const auto left = [&](const std::optional<double>& have) {
    return have ? std::optional(*have - row.depth_mm) : std::nullopt;
  };
  row.left.board_mm = left(r.spoilboard_mm);
  row.left.screws_mm = left(r.screw_depth_mm);
  row.left.dowel_holes_mm = left(r.dowel_hole_mm);
  const Obstacles in_the_way = obstacles(r, row.depth_mm);
  row.possible = !in_the_way.board && !in_the_way.screws && !in_the_way.dowels;
  if (in_the_way.board)
    row.notices.push_back(
        {"resurface-board",
         fmt::format(
             "Too little spoilboard: {:.2f} mm would be left of {:.2f} mm, and {:.2f} mm is "
             "the least; fit a new one.",
             std::max(0.0, *row.left.board_mm), *r.spoilboard_mm,
             r.spoilboard_least_mm.value_or(0))});
  else if (!r.spoilboard_mm)
    row.notices.push_back({"resurface-board", "No one stated the thickness of the spoilboard "
                                              "(spoilboard in [bed.resurface]): measure it before "
                                              "you take anything off."});
  if (in_the_way.screws)
    row.notices.push_back({"resurface-screws", "The cutter would meet screw heads: countersink "
                                               "them deeper first."});
  else if (!r.screw_depth_mm)
    row.notices.push_back({"resurface-screws", "Look how deep screws and inserts lie before the "
                                               "cutter finds them (screw_depth in "
                                               "[bed.resurface])."});
  if (in_the_way.dowels)
    row.notices.push_back({"resurface-dowels", "The dowel holes would be too shallow: drill them "
                                               "deeper first, on the same zero."});
}

void add_cautions(ResurfaceRow& row) {
  if (row.verdict_between && *row.verdict_between > row.verdict_after)
    row.notices.push_back(
        {"resurface-between",
         fmt::format(
             "Before side A or not at all: surfaced between side A and side B, what the bed "
             "did to side A no longer cancels on side B, and the piece would be {}.",
             verdict_in_text(*row.verdict_between))});
  else
    row.notices.push_back({"resurface-between", "Before side A or not at all: a bed that changes "
                                                "between the sides is another one for each."});
  row.notices.push_back({"resurface-zero", "Every zero and height taken from the bed is stale "
                                           "afterwards: touch off anew, read the bed anew."});
  row.notices.push_back({"resurface-dust", "Surfacing board makes fine dust: extract it, wear a "
                                           "mask."});
}

} // namespace

Setup with_resurfaced_bed(const Setup& setup) {
  Setup out = setup;
  out.bed.readings.reset();
  out.bed.reading_error = {};
  out.bed.flatness_mm = residual_flatness(setup.bed.resurfacing).mm;
  return out;
}

bool can_be_resurfaced(const Setup& setup) {
  const Obstacles in_the_way =
      obstacles(setup.bed.resurfacing, flatness_under_board(setup) + kSurfacingSpare);
  return !in_the_way.board && !in_the_way.screws && !in_the_way.dowels;
}

double flatness_under_board(const Setup& setup) {
  if (!setup.bed.readings)
    return setup.bed.flatness_mm.value_or(0);
  const Range range = range_under_board(setup);
  return *range.high - *range.low;
}

std::optional<ResurfaceRow> judge_resurfacing(std::span<const WallOfJob> walls,
                                              const OutcomeOptions& options, const Outcome& now,
                                              std::span<const Tried> tried, const RunContext& run) {
  const Setup& setup = walls.front().setup;
  if (!setup.bed.readings && !(setup.bed.flatness_mm.value_or(0) > 0))
    return std::nullopt;
  const Resurfacing& r = setup.bed.resurfacing;
  const Residual residual = residual_flatness(r);
  ResurfaceRow row;
  row.flatness_mm = flatness_under_board(setup);
  row.residual_mm = residual.mm;
  row.residual_from = residual.from;
  row.depth_mm = row.flatness_mm + kSurfacingSpare;
  row.depth_per_pass_mm = r.depth_per_pass_mm;
  row.passes = static_cast<int>(std::ceil(row.depth_mm / r.depth_per_pass_mm - 1e-9));
  row.area = area_to_surface(setup);

  const Outcome after = outcome_of(with_change(walls, with_resurfaced_bed(setup)), options, run);
  row.verdict_now = now.verdict;
  row.verdict_after = after.verdict;
  row.gain_mm = after.guaranteed_mm - now.guaranteed_mm;
  if (setup.bed.readings && now.verdict != Verdict::safe)
    row.verdict_between = outcome_of(walls, options, run, resurfaced_between).verdict;
  const Tried* free = best_free_change(tried, now);
  if (free) {
    row.verdict_free = free->outcome.verdict;
    row.free_change = free->alternative.change;
  }
  if (setup.bed.readings && !range_under_board(setup).whole)
    row.notices.push_back({"resurface-not-read", "The readings do not reach under the whole board: "
                                                 "there may be a higher or lower place."});
  add_what_is_left(r, row);
  add_cautions(row);
  row.advised = row.possible && row.verdict_after < row.verdict_now &&
                (!row.verdict_free || row.verdict_after < *row.verdict_free);
  return row;
}

} // namespace leastwall
