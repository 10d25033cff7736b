#include "check/check_piece.h"

#include "base/append_new.h"
#include "bed/bed_map.h"
#include "bed/flatness.h"
#include "budget/advice/dowel_room.h"
#include "budget/advice/touch_place.h"
#include "budget/pad/pad_place.h"
#include "causes/causes.h"
#include "causes/model/land.h"
#include "check/piece_in_board.h"
#include "check/read_in_part.h"
#include "check/touch_unknown.h"
#include "report/leave_unproven.h"
#include "setup/place.h"
#include "setup/reading_places.h"
#include "wall/fit/fit_findings.h"
#include "wall/fit/likely_mistakes.h"
#include "wall/left_open.h"
#include "wall/regions/thin_regions.h"
#include "wall/sampling/sample_spacing.h"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

/// What no mesh and no number can tell.
const std::vector<std::string> kNotChecked = {
    "whether the cutter can reach every place and what its paths leave standing",
    "wood that one surface leaves by itself: ribs between two pockets, thin fins",
    "grain, knots, glue lines and how the wood tears at a thin wall",
    "how the resin flows, heats, shrinks and holds", "that the machine repeats what was measured"};

std::vector<RegionRow> region_rows(const WallMap& map, const Budget& budget,
                                   const std::vector<ThinRegion>& regions) {
  std::vector<RegionRow> rows;
  for (const ThinRegion& r : regions) {
    RegionRow row;
    row.least_wall_mm = r.least_shown_mm;
    row.worst_mm = r.least_judged_mm;
    row.area_mm2 = r.area_mm2;
    row.area_under_limit_mm2 = r.area_shown_mm2;
    row.at = map.samples[r.thinnest].at;
    const std::uint32_t cause = budget.worst_cause[r.thinnest];
    if (cause != kNoCause)
      row.worst_cause = budget.causes[cause].id;
    rows.push_back(row);
  }
  return rows;
}

/// Notices of one mesh say which mesh they speak of.
std::vector<Notice> naming(NoticeAbout mesh, std::vector<Notice> notices) {
  for (Notice& n : notices) {
    n.text = fmt::format("{}: {}", mesh == NoticeAbout::pocket_mesh ? "Pocket" : "Skin", n.text);
    n.about = mesh;
  }
  return notices;
}

bool plausible_reading(const PadReport& pad, std::optional<double> reading_mm) {
  return pad.has_room && reading_mm && *reading_mm > 0 && *reading_mm >= pad.low_mm &&
         *reading_mm <= pad.high_mm;
}

/// What a rim that runs out was not asked for.
std::vector<Notice> rim_notices(const WallMeasurement& wall, double depth_mm) {
  if (!(depth_mm > 0))
    return {};
  if (!wall.rim)
    return {{"rim-runs-out",
             fmt::format("The rim runs out, as stated: no skin lies less than {:.3f} mm below the "
                         "pocket face.",
                         depth_mm)}};
  // Where most of the skin is called a rim, little is left that the verdict speaks of.
  const bool mostly = wall.rim->area_mm2 > wall.skin_area_mm2;
  return {{"rim-runs-out",
           fmt::format("The rim runs out, as stated: {:.1f} mm2 of skin less than {:.3f} mm below "
                       "the pocket face are not asked to hold the limit. The least wall there is "
                       "{:.3f} mm as drawn.",
                       wall.rim->area_mm2, depth_mm, wall.rim->least_wall_mm),
           mostly ? Severity::doubt : Severity::warning}};
}

/// Where errors thin a measured wall by more than was expected of any, one that was measured only
/// coarsely may be under the limit too.
std::optional<Notice> errors_beyond_measured(const WallMeasurement& wall, const Budget& budget,
                                             double limit_mm) {
  double thinning = 0;
  for (std::size_t i = 0; i < wall.skin.samples.size(); ++i)
    thinning = std::max(thinning, wall.skin.samples[i].wall_mm - budget.worst_mm[i]);
  if (limit_mm + thinning <= wall.measured_to_mm + kLimitTolerance_mm)
    return std::nullopt;
  return Notice{"errors-beyond-measured",
                fmt::format("Errors thin a wall by up to {:.3f} mm here, so that walls up to "
                            "{:.3f} mm as drawn count, and only those up to {:.3f} mm were "
                            "measured finely. Where bed and board were read in sharp peaks, read "
                            "them anew; else please report it as a fault of leastwall.",
                            thinning, limit_mm + thinning, wall.measured_to_mm),
                Severity::unproven};
}

/// Do errors of the set-up differ from place to place?
bool varies_from_place_to_place(const Setup& setup, const Box& part) {
  std::vector<Assumption> ignored;
  return std::ranges::any_of(causes_of(with_footprint_of(setup, part), ignored),
                             [](const Cause& c) { return c.field != nullptr; });
}

Box box_of(const CheckInput& input) {
  Box box = input.pocket.findings.box;
  box.add(input.skin.findings.box);
  return box;
}

/// The board's rectangle, else that of the part.
Footprint board_or(const Setup& setup, const Box& part) {
  return setup.board.footprint.value_or(
      Footprint{{part.low.x, part.low.y}, {part.high.x, part.high.y}});
}

} // namespace

CheckResult check_piece(CheckInput input, const RunContext& run) {
  WallMeasurement wall = measure_piece(input, reading_places(input.setup), run);
  return judge_piece(std::move(input), std::move(wall), run);
}

WallMeasurement measure_piece(CheckInput& input, std::vector<Point2> also_at,
                              const RunContext& run) {
  MeasureOptions measure;
  measure.ceiling_mm = fine_ceiling_mm(input.budget.limit_mm, input.reach.thinner_mm);
  measure.above_least_mm = fine_ceiling_mm(input.reach.thicker_mm, input.reach.thinner_mm);
  measure.top_z_mm = input.top_z_mm;
  measure.land = input.with_land;
  measure.beside = input.pair == PairKind::beside;
  measure.rim_depth_mm = input.rim_depth_mm;
  measure.fine_spacing_mm = input.fine_spacing_mm;
  measure.samples_alone = input.fine_spacing_mm > 0;
  measure.also_at = std::move(also_at);
  measure.smooth_errors =
      measure.also_at.empty() && !varies_from_place_to_place(input.setup, box_of(input));
  measure.pocket_map = false;
  measure.pocket_sound = input.pocket.findings.sound();
  measure.skin_sound = input.skin.findings.sound();
  input.mouth = {mouth_slope(input.pocket.mesh, input.top_z_mm),
                 mouth_slope(input.skin.mesh, input.top_z_mm)};
  return measure_wall(std::move(input.pocket.mesh), std::move(input.skin.mesh), measure, run);
}

CheckResult judge_piece(CheckInput input, WallMeasurement wall, const RunContext& run) {
  CheckResult result;
  const Box box = box_of(input);
  result.wall = std::move(wall);
  run.progress("adding up the errors", 0.9);
  input.setup.top_z_mm = result.wall.top_z_mm;
  input.setup.has_land = input.with_land;
  input.setup.has_land =
      std::ranges::any_of(result.wall.skin.samples,
                          [land = land_of(input.setup)](const WallSample& s) { return land(s); });
  if (input.pair == PairKind::own)
    require_thick_enough_board(input.setup, box, input.budget.units);
  result.setup = input.setup;
  result.flip_stated = input.flip_stated;
  // What is reported as the limit is the stated one.
  BudgetOptions judged = input.budget;
  judged.limit_mm -= kLimitTolerance_mm;
  judged.measured_to_mm = result.wall.measured_to_mm;
  if (judged.pad)
    judged.pad->cells = result.wall.skin.cells;
  result.budget = compute_budget(input.setup, result.wall.skin.samples, judged, run);

  const WallMap& map = result.wall.skin;
  const Budget& budget = result.budget;
  const bool hold = budget.verdict == Verdict::safe || budget.verdict == Verdict::at_risk;
  const std::optional<Notice> beyond = errors_beyond_measured(result.wall, budget, judged.limit_mm);
  const WallSample& thinnest = map.samples[budget.least.sample];
  CheckReport& report = result.report;
  report.title = input.title;
  report.pocket.file = input.pocket_file;
  report.skin.file = input.skin_file;
  report.wall.verdict = budget.verdict;
  report.basis.text = budget.verdict_basis;
  report.basis.by_chance = input.budget.basis == VerdictBasis::chance;
  report.basis.accepted_chance = input.budget.accepted_chance;
  report.basis.errors_stated = std::ranges::any_of(budget.cause_model, may_vary);
  report.wall.limit_mm = input.budget.limit_mm;
  report.wall.measured_to_mm = result.wall.measured_to_mm;
  report.wall.least_wall.design_mm = result.wall.least.wall_mm;
  report.wall.least_wall.may_be_deeper = result.wall.left_open.depth_most_mm.has_value();
  report.wall.least_wall.expected_mm = budget.least.expected_mm;
  report.wall.least_wall.worst_mm = budget.least.worst_mm;
  report.wall.least_wall.straight_down_mm = result.wall.straight_down_mm(thinnest.at);
  report.wall.least_wall.at = thinnest.at;
  report.wall.least_wall.spread_low_mm = budget.least.spread_low_mm;
  report.wall.least_wall.spread_high_mm = budget.least.spread_high_mm;
  report.wall.area_under_limit_mm2 = area_under(map, budget.expected_mm, judged.limit_mm);
  report.wall.area_at_risk_mm2 = area_under(map, budget.worst_mm, judged.limit_mm);
  report.skin_area_mm2 = result.wall.skin_area_mm2;
  report.left_out_area_mm2 = result.wall.left_out_area_mm2;
  report.top_z_mm = result.wall.top_z_mm;
  report.box = box;
  report.pocket.triangles = input.pocket.findings.triangles;
  report.skin.triangles = input.skin.findings.triangles;
  report.wall.regions = region_rows(
      map, budget, thin_regions(map, budget.worst_mm, budget.expected_mm, judged.limit_mm));
  report.wall.chance = budget.chance;
  report.wall.causes = budget.causes;
  report.advice = budget.advice;
  report.resurface = budget.resurface;
  if (budget.pad) {
    const PadReport& pad = *budget.pad;
    PadRow& row = report.pad.emplace();
    row.x_mm = pad.at.x;
    row.y_mm = pad.at.y;
    row.size_mm = kPadSize_mm;
    row.design_mm = pad.design_mm;
    row.floor_z_mm = pad.floor_z_mm;
    row.skin_z_mm = pad.skin_z_mm;
    row.expected_mm = pad.expected_mm;
    row.low_mm = pad.low_mm;
    row.high_mm = pad.high_mm;
    row.use = !pad.has_room                                      ? PadUse::no_room
              : pad.low_mm <= 0 && !input.budget.pad->reading_mm ? PadUse::tells_nothing
                                                                 : PadUse::cut;
    row.reading_mm = input.budget.pad->reading_mm;
    // A reading that cannot come from the stated errors is no base for a shift.
    if (plausible_reading(pad, row.reading_mm))
      row.shift_mm = pad.shift_mm;
    row.verdict = row.reading_mm && !row.shift_mm ? budget.verdict : pad.verdict;
  }
  append_new(report.warnings, naming(NoticeAbout::pocket_mesh, input.pocket.notices));
  append_new(report.warnings, naming(NoticeAbout::skin_mesh, input.skin.notices));
  if (input.pair == PairKind::own || input.pair == PairKind::fill)
    append_new(report.warnings,
               likely_mistakes(input.pocket.findings.box, input.skin.findings.box));
  if (input.top_z_mm && input.pair == PairKind::own)
    append_new(report.warnings, stated_face_mistakes(*input.top_z_mm, input.pocket.findings.box,
                                                     input.skin.findings.box));
  if (input.pair == PairKind::own) {
    append_new(report.warnings, board_mistakes(input.setup, report.box));
    append_new(report.warnings,
               thin_board_findings(input.setup, box, {map, budget.worst_mm, budget.guaranteed_mm},
                                   judged.limit_mm, hold));
  }
  append_new(report.warnings, read_in_part(input.setup, board_or(input.setup, box), box));
  append_new(report.warnings, touch_not_stated(input.setup, hold));
  if (input.pair == PairKind::own) {
    std::vector<Notice> touch = touch_notices(input.setup, map.samples);
    weigh_touch(input.setup, hold, touch);
    append_new(report.warnings, touch);
    append_new(report.warnings, dowel_notices(input.setup, board_or(input.setup, box).middle(),
                                              map.samples, map.cells));
  }
  if (input.setup.bed.readings) // a bump or a slip: either way the walls are computed with it
    for (const OffSurface& lone : bed_shape(input.setup.bed.readings->points()).lone)
      report.warnings.push_back(lone_reading_notice(lone));
  append_new(report.warnings, input.warnings);
  append_new(report.warnings, result.wall.notices);
  append_new(report.warnings,
             left_open_findings(result.wall, {input.budget.limit_mm, input.reach.thinner_mm,
                                              report.wall.verdict == Verdict::thin ||
                                                  report.wall.verdict == Verdict::cut_through}));
  const std::vector<Notice> found =
      fit_findings(result.wall.facts, {input.budget.limit_mm, result.wall.least.wall_mm,
                                       input.reach.thinner_mm, input.pair});
  // What was measured says it better than what the boxes only hinted at.
  std::erase_if(report.warnings, [&found](const Notice& hint) {
    return std::ranges::any_of(found, [&hint](const Notice& n) {
      return n.code == hint.code && n.severity >= hint.severity;
    });
  });
  report.warnings.insert(report.warnings.end(), found.begin(), found.end());
  if (beyond)
    report.warnings.push_back(*beyond);
  append_new(report.warnings, rim_notices(result.wall, input.rim_depth_mm));
  if (hold)
    append_new(report.warnings,
               mouth_notices(result.wall, budget, input.setup, input.mouth, judged.limit_mm));
  append_new(report.warnings, budget.warnings);
  append_new(report.assumptions, input.assumptions);
  append_new(report.assumptions, result.wall.assumptions);
  append_new(report.assumptions, budget.assumptions);
  report.not_checked = kNotChecked;
  // The last word, whatever was computed before.
  if (leaves_unproven(report.warnings))
    leave_unproven(report);
  return result;
}

} // namespace leastwall
