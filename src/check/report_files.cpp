#include "check/report_files.h"

#include "base/errors.h"
#include "report/json/json_report.h"
#include "report/maps/bed_map_picture.h"
#include "report/maps/heat_map.h"
#include "report/maps/shop_map.h"
#include "report/mesh/coloured_mesh.h"
#include "report/page/page.h"
#include "report/sheet/setup_sheet.h"

#include <fmt/format.h>
#include <optional>
#include <string_view>

namespace leastwall {
namespace {

std::string wall_map(const ReportInput& input, const RunContext&) {
  HeatMapOptions options;
  options.inch = input.inches;
  const CheckResult& r = input.result;
  return draw_heat_map(r.wall.skin, {r.budget.expected_mm, r.budget.worst_mm}, r.report, options);
}

std::string shop_map(const ReportInput& input, ShopMapKind kind,
                     std::optional<Side> machine = std::nullopt) {
  const CheckResult& r = input.result;
  ShopMapOptions options;
  options.kind = kind;
  options.machine = machine;
  options.inch = input.inches;
  return draw_shop_map({r.wall.skin, r.budget, r.report, r.setup, r.flip_stated}, options);
}

std::string bed_map(const ReportInput& input, const RunContext&) {
  const CheckResult& r = input.result;
  const BedMap& bed = *r.setup.bed.readings;
  const Flatness flatness = judge_flatness(bed.points());
  BedPictureOptions options;
  options.inch = input.inches;
  options.title = bed_map_title(flatness, r.report.title);
  options.note = bed_map_note(flatness, "the job");
  return draw_bed_map(bed, flatness, piece_on_bed(r.setup, r.wall.skin), options);
}

template <ShopMapKind kind> std::string map_of(const ReportInput& input, const RunContext&) {
  return shop_map(input, kind);
}

template <Side side> std::string machine_map(const ReportInput& input, const RunContext&) {
  return shop_map(input, ShopMapKind::expected, side);
}

std::string sheet(const ReportInput& input, const RunContext&) {
  const CheckResult& r = input.result;
  return setup_sheet({r.report, r.setup, r.flip_stated, &r.wall.skin, r.budget.worst_mm},
                     {input.paper, input.inches});
}

std::string page(const ReportInput& input, const RunContext& run) {
  const CheckResult& r = input.result;
  return page_html({r.report, r.wall.skin, r.budget, input.budget_options, r.setup, input.inches},
                   run);
}

constexpr ReportNeeds kNothing = ReportNeeds::nothing;

constexpr ReportFile kFiles[] = {
    {kJsonName, kNothing,
     [](const ReportInput& in, const RunContext&) { return json_report(in.result.report); }},
    {kWallMapName, kNothing, wall_map},
    {"wall-design.png", kNothing, map_of<ShopMapKind::design>},
    {"wall-expected.png", kNothing, map_of<ShopMapKind::expected>},
    {"wall-worst.png", kNothing, map_of<ShopMapKind::worst>},
    {"causes.png", kNothing, map_of<ShopMapKind::causes>},
    {"side-a.png", kNothing, machine_map<Side::a>},
    {"side-b.png", kNothing, machine_map<Side::b>},
    {"bed.png", ReportNeeds::bed_readings, bed_map},
    {kSheetName, ReportNeeds::whole_setup, sheet},
    {"skin.ply", kNothing,
     [](const ReportInput& in, const RunContext&) {
       return coloured_ply(in.result.wall.skin, in.result.budget.expected_mm);
     }},
    {"skin.glb", kNothing,
     [](const ReportInput& in, const RunContext&) {
       return coloured_glb(in.result.wall.skin, in.result.budget.expected_mm);
     }},
    {"report.html", kNothing, page},
};

} // namespace

std::span<const ReportFile> report_files() {
  return kFiles;
}

const ReportFile& report_file(std::string_view name) {
  for (const ReportFile& file : kFiles)
    if (file.name == name)
      return file;
  throw RunError(
      fmt::format("no report is called {}; please report it as a fault of leastwall", name));
}

} // namespace leastwall
