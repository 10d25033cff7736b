#include "app/check_piece.h"

#include "wall/likely_mistakes.h"
#include "wall/thin_regions.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

/// What no mesh and no number can tell.
const std::vector<std::string> kNotChecked = {
    "whether the cutter can reach every place and what its paths leave standing",
    "grain, knots, glue lines and how the wood tears at a thin wall",
    "how the resin flows, heats, shrinks and holds", "that the machine repeats what was measured"};

/// A cause with its side, for where a table has no column of its own for it.
std::string in_words(const CauseRow& cause) {
  if (!cause.side)
    return cause.name;
  return cause.name + (*cause.side == Side::a ? ", A" : ", B");
}

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
      row.worst_cause = in_words(budget.causes[cause]);
    rows.push_back(std::move(row));
  }
  return rows;
}

/// Notices of one mesh say which mesh they speak of.
std::vector<Notice> naming(std::string_view mesh, std::vector<Notice> notices) {
  for (Notice& n : notices)
    n.text = fmt::format("{}: {}", mesh, n.text);
  return notices;
}

template <class T> void append(std::vector<T>& to, const std::vector<T>& from) {
  for (const T& item : from)
    if (std::find(to.begin(), to.end(), item) == to.end())
      to.push_back(item);
}

} // namespace

CheckResult check_piece(CheckInput input, const RunContext& run) {
  CheckResult result;
  MeasureOptions measure;
  measure.ceiling_mm = input.budget.limit_mm + 1.25 * input.reach_mm;
  measure.top_z_mm = input.top_z_mm;
  result.wall = measure_wall(input.pocket.mesh, input.skin.mesh, measure, run);
  run.progress("adding up the errors", 0.9);
  input.setup.top_z_mm = result.wall.top_z_mm;
  result.setup = input.setup;
  result.flip_stated = input.flip_stated;
  result.budget = compute_budget(input.setup, result.wall.skin.samples, input.budget, run);

  const WallMap& map = result.wall.skin;
  const Budget& budget = result.budget;
  const WallSample& thinnest = map.samples[budget.thinnest];
  CheckReport& report = result.report;
  report.title = input.title;
  report.pocket_file = input.pocket_file;
  report.skin_file = input.skin_file;
  report.verdict = budget.verdict;
  report.verdict_basis = budget.verdict_basis;
  report.limit_mm = input.budget.limit_mm;
  report.least_wall.design_mm = result.wall.least.wall_mm;
  report.least_wall.expected_mm = budget.least_expected_mm;
  report.least_wall.worst_mm = budget.least_worst_mm;
  report.least_wall.straight_down_mm = result.wall.straight_down_mm(thinnest.at);
  report.least_wall.at = thinnest.at;
  report.least_wall.spread_low_mm = budget.spread_low_mm;
  report.least_wall.spread_high_mm = budget.spread_high_mm;
  report.area_under_limit_mm2 = area_under(map, budget.expected_mm, input.budget.limit_mm);
  report.area_at_risk_mm2 = area_under(map, budget.worst_mm, input.budget.limit_mm);
  report.skin_area_mm2 = result.wall.skin_area_mm2;
  report.left_out_area_mm2 = result.wall.left_out_area_mm2;
  report.top_z_mm = result.wall.top_z_mm;
  report.box = input.pocket.findings.box;
  report.box.add(input.skin.findings.box);
  report.pocket_triangles = input.pocket.mesh.triangles.size();
  report.skin_triangles = input.skin.mesh.triangles.size();
  report.regions = region_rows(
      map, budget, thin_regions(map, budget.worst_mm, budget.expected_mm, input.budget.limit_mm));
  report.chance = budget.chance;
  report.causes = budget.causes;
  report.advice = budget.advice;
  report.resurface = budget.resurface;
  if (budget.pad) {
    const PadReport& pad = *budget.pad;
    report.pad = PadRow{pad.at.x,
                        pad.at.y,
                        pad.design_mm,
                        pad.expected_mm,
                        pad.low_mm,
                        pad.high_mm,
                        input.budget.pad->reading_mm,
                        pad.shift_mm,
                        pad.verdict};
  }
  append(report.warnings, naming("Pocket", input.pocket.notices));
  append(report.warnings, naming("Skin", input.skin.notices));
  append(report.warnings, likely_mistakes(input.pocket.findings.box, input.skin.findings.box));
  append(report.warnings, input.warnings);
  append(report.warnings, result.wall.notices);
  append(report.warnings, budget.warnings);
  append(report.assumptions, input.assumptions);
  append(report.assumptions, result.wall.assumptions);
  append(report.assumptions, budget.assumptions);
  report.not_checked = kNotChecked;
  return result;
}

} // namespace leastwall
