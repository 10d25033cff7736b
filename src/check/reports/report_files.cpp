#include "check/reports/report_files.h"

#include "base/errors.h"
#include "check/reports/report_page.h"
#include "check/reports/report_sheets.h"
#include "check/work_steps.h"
#include "report/json/against_json.h"
#include "report/json/json_report.h"
#include "report/maps/bed_map_picture.h"
#include "report/maps/board_map.h"
#include "report/maps/heat_map.h"
#include "report/maps/shop_map.h"
#include "report/mesh/coloured_mesh.h"
#include "report/section/section_picture.h"
#include "report/sheet/sheet_text.h"

#include <algorithm>
#include <fmt/format.h>
#include <optional>
#include <string_view>

namespace leastwall {
namespace {

const CheckResult& governing(const ReportInput& input) {
  return input.job.governing_wall();
}

std::string map_of_wall(const CheckResult& r, bool inches, PictureFile file = PictureFile::png) {
  HeatMapOptions options;
  options.file = file;
  options.inch = inches;
  return draw_heat_map(r.wall.skin, {r.budget.expected_mm, r.budget.worst_mm}, r.report, options);
}

std::string wall_map(const ReportInput& input, const RunContext&) {
  return map_of_wall(governing(input), input.inches, input.map);
}

std::string shop_map(const ReportInput& input, ShopMapKind kind,
                     std::optional<Side> machine = std::nullopt) {
  const CheckResult& r = governing(input);
  ShopMapOptions options;
  options.kind = kind;
  options.machine = machine;
  options.inch = input.inches;
  return draw_shop_map({r.wall.skin, r.budget, r.report, r.setup, r.flip_stated}, options);
}

std::string bed_map(const ReportInput& input, const RunContext&) {
  const CheckResult& r = governing(input);
  const BedMap& bed = *r.setup.bed.readings;
  const Flatness flatness = judge_flatness(bed.points());
  BedPictureOptions options;
  options.inch = input.inches;
  options.title = bed_map_title(flatness, r.report.title);
  options.note = bed_map_note(flatness, "the job");
  return draw_bed_map(bed, flatness, piece_on_bed(r.setup, r.wall.skin), options);
}

std::string section(const ReportInput& input, const RunContext&) {
  return draw_section_picture(governing_section(input.job), input.inches);
}

template <ShopMapKind kind> std::string map_of(const ReportInput& input, const RunContext&) {
  return shop_map(input, kind);
}

template <Side side> std::string machine_map(const ReportInput& input, const RunContext&) {
  return shop_map(input, ShopMapKind::expected, side);
}

/// What maps of a board are drawn from.
class BoardDrawing {
 public:
  BoardDrawing(const JobResult& job, std::uint32_t board)
      : job_(job), steps_(work_steps(job)), parts_(part_marks(job, board)),
        holes_(hole_marks(job, board)) {
    std::erase_if(steps_, [board](const WorkStep& step) { return step.step.board != board; });
    for (const std::size_t w : job.skin_walls)
      if (job.walls[w].setup.outer_cut.board == board)
        skins_.push_back({job.walls[w].wall.skin, job.walls[w].budget.expected_mm,
                          job.walls[w].budget.worst_mm, job.report.walls[w].wall});
    for (std::size_t w = 0; w < job.walls.size(); ++w)
      if (job.walls[w].setup.outer_cut.board == board)
        walls_.push_back({&job.report.walls[w].wall, w + 1});
    for (const WorkStep& step : steps_)
      lines_.push_back(
          fmt::format("{}. {}: {}", step.step.number, face_text(step.step.side), step.step.cuts));
  }

  BoardMapInput input() const {
    return {skins_,
            job_.report,
            steps_.front().setup,
            job_.governing_wall().flip_stated,
            parts_,
            holes_,
            lines_,
            walls_,
            steps_.front().step.board,
            steps_.front().step.boards,
            job_.governing_wall().setup.outer_cut.board,
            job_.board_stated};
  }

 private:
  const JobResult& job_;
  std::vector<WorkStep> steps_;
  std::vector<SkinOnBoard> skins_;
  std::vector<PartMark> parts_;
  std::vector<HoleMark> holes_;
  std::vector<std::string> lines_;
  std::vector<NumberedWall> walls_;
};

std::string map_of_board(const JobResult& job, std::uint32_t board, Side side, bool inches) {
  return draw_board_map(BoardDrawing(job, board).input(), {.machine = side, .inch = inches});
}

template <Side side> std::string board_map(const ReportInput& input, const RunContext&) {
  return map_of_board(input.job, 0, side, input.inches);
}

/// Of several pairs of halves the one with the largest step.
std::string seam_map(const ReportInput& input, const RunContext&) {
  const SeamRow& seam =
      *std::ranges::max_element(input.job.report.parts.seams, {}, &SeamRow::in_19_of_20_mm);
  return draw_seam_map(BoardDrawing(input.job, seam.board).input(), seam, {.inch = input.inches});
}

constexpr std::uint32_t kMaxBoards = 9; // part.board

constexpr ReportNeeds kNothing = ReportNeeds::nothing, kOneWall = ReportNeeds::one_wall;

constexpr ReportFile kFiles[] = {
    {kJsonName, kNothing,
     [](const ReportInput& in, const RunContext&) {
       return in.against ? json_report_against(in.job.report, *in.against)
                         : json_report(in.job.report);
     }},
    {kWallMapName, kOneWall, wall_map},
    {"section.png", kNothing, section},
    {"wall-design.png", kOneWall, map_of<ShopMapKind::design>},
    {"wall-expected.png", kOneWall, map_of<ShopMapKind::expected>},
    {"wall-worst.png", kOneWall, map_of<ShopMapKind::worst>},
    {"causes.png", kOneWall, map_of<ShopMapKind::causes>},
    {"side-a.png", kOneWall, machine_map<Side::a>},
    {"side-b.png", kOneWall, machine_map<Side::b>},
    {"board-a.png", ReportNeeds::walls, board_map<Side::a>},
    {"board-b.png", ReportNeeds::walls, board_map<Side::b>},
    {"seam.png", ReportNeeds::seam, seam_map},
    {"bed.png", ReportNeeds::bed_readings, bed_map},
    {kSheetName, ReportNeeds::whole_setup, report_sheet},
    {kCardName, ReportNeeds::whole_setup, report_card},
    {"skin.ply", kOneWall,
     [](const ReportInput& in, const RunContext&) {
       return coloured_ply(governing(in).wall.skin, governing(in).budget.expected_mm);
     }},
    {"skin.glb", kOneWall,
     [](const ReportInput& in, const RunContext&) { return solid_of_wall(governing(in)); }},
    {kPageName, kNothing, report_page},
};

} // namespace

std::span<const ReportFile> report_files() {
  return kFiles;
}

bool may_be_made(ReportNeeds needs, const JobInput& input, bool from_job_file) {
  switch (needs) {
  case ReportNeeds::nothing:
    break;
  case ReportNeeds::one_wall:
    return input.one_wall();
  case ReportNeeds::walls:
    return !input.one_wall();
  case ReportNeeds::seam:
    return !input.halves.empty();
  case ReportNeeds::whole_setup:
    return from_job_file;
  case ReportNeeds::bed_readings:
    return has_bed_map(input.first().setup);
  }
  return true;
}

std::vector<NumberedFile> numbered_files() {
  std::vector<NumberedFile> files;
  for (std::size_t w = 0; w < kMaxWalls; ++w) {
    const auto drawn = [w](const JobInput& input) {
      return !input.one_wall() && w < input.walls.size() && input.walls[w].drawn;
    };
    files.push_back(
        {fmt::format("wall-{}.png", w + 1), drawn,
         [w](const JobResult& job, bool inches) { return map_of_wall(job.walls[w], inches); }});
    files.push_back({fmt::format("wall-{}.glb", w + 1), drawn,
                     [w](const JobResult& job, bool) { return solid_of_wall(job.walls[w]); }});
  }
  for (std::uint32_t b = 1; b < kMaxBoards; ++b)
    for (const Side side : {Side::a, Side::b})
      files.push_back({fmt::format("board-{}-{}.png", b + 1, side == Side::a ? "a" : "b"),
                       [b](const JobInput& input) {
                         return std::ranges::any_of(
                             input.walls, [b](const WallInput& wall) { return wall.board == b; });
                       },
                       [b, side](const JobResult& job, bool inches) {
                         return map_of_board(job, b, side, inches);
                       }});
  return files;
}

const ReportFile& report_file(std::string_view name) {
  for (const ReportFile& file : kFiles)
    if (file.name == name)
      return file;
  throw RunError(
      fmt::format("no report is called {}; please report it as a fault of leastwall", name));
}

} // namespace leastwall
