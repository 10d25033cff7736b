#include "check/check_job.h"

#include "base/append_new.h"
#include "budget/advice/touch_place.h"
#include "budget/whole_job.h"
#include "check/job_parts.h"
#include "check/touch_unknown.h"
#include "parts/place_measurement.h"
#include "report/leave_unproven.h"
#include "report/words/wall_name.h"
#include "setup/place.h"
#include "setup/reading_places.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <optional>
#include <utility>

namespace leastwall {
namespace {

constexpr const char* kDrills = "where a drill wanders to, and how much wider than itself it cuts";

/// Whether wall `w` is measured with wall `first`.
bool measured_with(const JobInput& job, std::size_t w, std::size_t first) {
  return w == first || job.walls[w].same_as == first;
}

/// Where bed and board were read under each of the walls that are measured together, in their own
/// frame.
std::vector<Point2> read_at(const JobInput& job, std::size_t first) {
  std::vector<Point2> places;
  for (std::size_t w = first; w < job.walls.size(); ++w)
    if (measured_with(job, w, first)) {
      const OnBoard on_board(job.walls[w].on_board);
      for (const Point2 p : reading_places(job.walls[w].input.setup))
        places.push_back(on_board.back(p));
    }
  return places;
}

/// The most that errors do to any of the walls that are measured together.
Reach reach_together(const JobInput& job, std::size_t first) {
  Reach reach;
  for (std::size_t w = first; w < job.walls.size(); ++w)
    if (measured_with(job, w, first)) {
      const Reach& own = job.walls[w].input.reach;
      reach.thinner_mm = std::max(reach.thinner_mm, own.thinner_mm);
      reach.thicker_mm = std::max(reach.thicker_mm, own.thicker_mm);
    }
  return reach;
}

/// A mesh for wall `w`: given up with the last wall that it bounds.
TriMesh take(JobInput& job, std::size_t mesh, std::size_t w) {
  for (std::size_t later = w + 1; later < job.walls.size(); ++later)
    if (!job.walls[later].same_as &&
        (job.walls[later].pocket_mesh == mesh || job.walls[later].skin_mesh == mesh))
      return job.meshes[mesh].mesh;
  return std::move(job.meshes[mesh].mesh);
}

WallMeasurement measured(JobInput& job, std::size_t w, const RunContext& run) {
  CheckInput input = job.walls[w].input;
  input.pocket.mesh = take(job, job.walls[w].pocket_mesh, w);
  input.skin.mesh = take(job, job.walls[w].skin_mesh, w);
  input.reach = reach_together(job, w);
  WallMeasurement drawn = measure_piece(input, read_at(job, w), run);
  for (std::size_t same = w; same < job.walls.size(); ++same)
    if (measured_with(job, same, w))
      job.walls[same].input.mouth = input.mouth;
  return drawn;
}

/// Every skin, once each, as it lies on the board.
std::vector<WallSample> skin_samples(const JobResult& job) {
  std::size_t count = 0;
  for (const std::size_t w : job.skins)
    count += job.walls[w].wall.skin.samples.size();
  std::vector<WallSample> all;
  all.reserve(count);
  for (const std::size_t w : job.skins) {
    const std::vector<WallSample>& skin = job.walls[w].wall.skin.samples;
    all.insert(all.end(), skin.begin(), skin.end());
  }
  return all;
}

/// Notices of one wall, in a job that has several, say which wall they speak of. Of a mirrored wall
/// only what its meshes do not share with the other.
std::vector<Notice> of_wall(const NamedWall& wall, const std::vector<Notice>& notices,
                            const std::vector<Notice>& told) {
  std::vector<Notice> out;
  for (Notice n : notices)
    // Touch points are asked of all parts together (touches_of).
    if (!n.code.starts_with("touch-") && std::find(told.begin(), told.end(), n) == told.end()) {
      n.text = fmt::format("{}: {}", wall_name(wall), n.text);
      out.push_back(std::move(n));
    }
  return out;
}

/// Where each set-up touches its datum, against every part, each for itself: between two parts the
/// board's face is whole.
std::vector<Notice> touches_of(const JobResult& job, bool hold) {
  struct Skins {
    std::vector<WallSample> samples;
    std::vector<std::size_t> of_parts;
  };
  std::map<std::uint32_t, Skins> on_board;
  for (const std::size_t part : job.skins) {
    Skins& skins = on_board[job.walls[part].setup.outer_cut.board];
    const std::vector<WallSample>& own = job.walls[part].wall.skin.samples;
    skins.samples.insert(skins.samples.end(), own.begin(), own.end());
    skins.of_parts.push_back(own.size());
  }
  std::vector<Notice> out;
  for (std::size_t w = 0; w < job.walls.size(); ++w) {
    Setup setup = job.walls[w].setup;
    if (!through_board(setup)) // the outer one's set-up is another wall's
      setup.outer.touch_point.reset();
    const Skins& skins = on_board[setup.outer_cut.board];
    std::vector<Notice> found = touch_notices(setup, skins.samples, skins.of_parts);
    weigh_touch(setup, hold, found);
    if (setup.inner_cut.set_up > 0)
      for (Notice& n : found)
        if (n.about == NoticeAbout::side_a)
          n.text = fmt::format("{}: {}", job.report.walls[w].inner, n.text);
    append_new(out, found);
    append_new(out, touch_not_stated(job.walls[w].setup, hold));
  }
  return out;
}

NamedWall named(const WallInput& wall, const WallReport& report) {
  return {wall.part, wall.outer, wall.inner, wall.material, report};
}

BudgetOfWall budget_of(const CheckResult& wall, const BudgetOptions& options) {
  return {&wall.setup, wall.wall.skin.samples, &wall.budget, options.limit_mm - kLimitTolerance_mm,
          wall.wall.measured_to_mm};
}

/// The board as large as all parts together, where no one stated it.
void give_footprint(JobInput& job) {
  if (job.first().setup.board.footprint)
    return;
  const Box all = box_on_board(job);
  for (WallInput& wall : job.walls)
    wall.input.setup = with_footprint_of(wall.input.setup, all);
}

} // namespace

Box box_on_board(const JobInput& job) {
  Box all;
  for (const WallInput& wall : job.walls)
    for (const Box* box : {&wall.pocket_on_board, &wall.skin_on_board})
      all.add(*box);
  return all;
}

std::vector<std::size_t> skins_of(const JobInput& job) {
  std::vector<std::size_t> skins;
  for (std::size_t w = 0; w < job.walls.size(); ++w)
    if (job.walls[w].input.pair == PairKind::own &&
        (skins.empty() || job.walls[skins.back()].part_number != job.walls[w].part_number))
      skins.push_back(w);
  return skins;
}

LoadedMesh without_mesh(const LoadedMesh& mesh) {
  return {{}, mesh.findings, mesh.format, mesh.unit, mesh.unit_stated, mesh.notices};
}

JobInput job_of(CheckInput input) {
  JobInput job;
  job.meshes.push_back(std::move(input.pocket));
  job.meshes.push_back(std::move(input.skin));
  WallInput wall;
  wall.outer = "skin";
  wall.inner = "pocket";
  wall.material = "wood";
  wall.pocket_mesh = 0;
  wall.skin_mesh = 1;
  wall.input = std::move(input);
  wall.input.pocket = without_mesh(job.meshes[0]);
  wall.input.skin = without_mesh(job.meshes[1]);
  wall.pocket_on_board = wall.input.pocket.findings.box;
  wall.skin_on_board = wall.input.skin.findings.box;
  job.walls.push_back(std::move(wall));
  return job;
}

namespace {

/// The walls as drawn, each as its part lies on the board. Meshes are given up.
std::vector<WallMeasurement> measure_all(JobInput& job, const RunContext& run) {
  std::vector<WallMeasurement> drawn(job.walls.size());
  for (std::size_t w = 0; w < job.walls.size(); ++w) {
    if (!job.one_wall())
      run.progress(fmt::format("wall {} of {}", w + 1, job.walls.size()),
                   static_cast<double>(w) / static_cast<double>(job.walls.size()));
    const std::optional<std::size_t> same_as = job.walls[w].same_as;
    drawn[w] = same_as ? drawn[*same_as] : measured(job, w, run);
  }
  for (std::size_t w = 0; w < job.walls.size(); ++w)
    place_measurement(drawn[w], job.walls[w].on_board);
  return drawn;
}

/// One wall for itself. In a job that has several, what concerns all of them is not asked.
CheckResult judge_wall(const WallInput& wall, WallMeasurement drawn, bool several,
                       const RunContext& run) {
  CheckInput input = wall.input;
  input.pocket.findings.box = wall.pocket_on_board;
  input.skin.findings.box = wall.skin_on_board;
  if (several) {
    input.budget.with_allowed = input.budget.with_advice = false;
    input.budget.pad.reset();
  }
  return judge_piece(std::move(input), std::move(drawn), run);
}

void tell_of_job(const JobInput& job, CheckReport& report) {
  if (!job.holes.empty())
    report.not_checked.push_back(kDrills);
  for (const std::string& line : job.not_checked)
    report.not_checked.push_back(line);
}

/// The report of a job of one wall, with what is said of the job.
CheckReport report_of_one(const JobInput& job, CheckReport report) {
  append_new(report.warnings, job.notices);
  append_new(report.assumptions, job.assumptions);
  tell_of_job(job, report);
  if (leaves_unproven(job.notices))
    leave_unproven(report);
  return report;
}

/// What is said of all walls of the job together; `report`: of the one that governs.
void tell_of_all(const JobInput& job, const JobResult& out, CheckReport& report) {
  report.warnings.clear();
  report.assumptions.clear();
  append_new(report.assumptions, job.assumptions);
  for (std::size_t w = 0; w < out.walls.size(); ++w) {
    const WallInput& wall = job.walls[w];
    const CheckReport& own = out.walls[w].report;
    append_new(report.warnings, of_wall(report.walls[w], own.warnings,
                                        wall.same_as ? out.walls[*wall.same_as].report.warnings
                                                     : std::vector<Notice>()));
    // What a hole and what stands beside take for granted is told with the wall of their pocket.
    if (wall.input.pair == PairKind::own || wall.input.pair == PairKind::fill)
      append_new(report.assumptions, own.assumptions);
    report.box.add(own.box);
  }
  append_new(report.warnings, job.notices);
  append_new(report.warnings, touches_of(out, report.wall.verdict == Verdict::safe ||
                                                  report.wall.verdict == Verdict::at_risk));
  tell_of_job(job, report);
}

/// The report of a job of several walls.
void report_of_all(const JobInput& job, bool board_stated, JobResult& out, const RunContext& run) {
  std::vector<BudgetOfWall> budgets;
  for (std::size_t w = 0; w < out.walls.size(); ++w)
    budgets.push_back(budget_of(out.walls[w], job.walls[w].input.budget));
  const JobBudget together = judge_job(
      budgets, [&out] { return skin_samples(out); }, job.first().budget, board_stated, run);
  out.governing = together.governing;

  CheckReport& report = out.report;
  std::vector<NamedWall> walls = std::move(report.walls);
  report = out.governing_wall().report;
  report.title = job.first().title;
  report.walls = std::move(walls);
  report.governing = out.governing;
  report.wall.verdict = together.verdict;
  report.wall.chance = together.chance;
  report.wall.causes = together.causes;
  report.advice = together.advice;
  report.resurface = together.resurface;
  report.basis.text =
      report.basis.by_chance
          ? fmt::format("chance of a wall under its limit in {} trials of the whole job, accepted: "
                        "{}",
                        together.chance.trials, one_in(report.basis.accepted_chance))
          : out.governing_wall().budget.verdict_basis;
  report.basis.errors_stated = std::ranges::any_of(
      out.walls, [](const CheckResult& wall) { return wall.report.basis.errors_stated; });
  tell_of_all(job, out, report);
  const bool unproven = std::ranges::any_of(
      out.walls, [](const CheckResult& wall) { return leaves_unproven(wall.report.warnings); });
  if (unproven || leaves_unproven(report.warnings))
    leave_unproven(report);
  for (std::size_t w = 0; w < out.walls.size(); ++w)
    out.walls[w].report.one_of = {w + 1, out.walls.size(), report.wall.verdict,
                                  wall_name(report.walls[w])};
}

} // namespace

JobResult check_job(JobInput job, const RunContext& run) {
  const bool several = !job.one_wall();
  const bool board_stated = job.first().setup.board.footprint.has_value();
  const PartsReport parts = parts_report(job, run);
  for (Notice& notice : overhang_notices(parts.board))
    job.notices.push_back(std::move(notice));
  if (several)
    give_footprint(job);
  JobResult out;
  out.pour = job.pour;
  out.flip_hole_radius_mm = job.flip_hole_radius_mm;
  out.board_stated = board_stated;
  out.skins = skins_of(job);
  for (std::size_t w = 0; w < job.walls.size(); ++w) {
    out.drawn.push_back(job.walls[w].drawn ? 1 : 0);
    if (job.walls[w].input.pair == PairKind::own)
      out.skin_walls.push_back(w);
  }
  std::vector<WallMeasurement> drawn = measure_all(job, run);
  for (std::size_t w = 0; w < job.walls.size(); ++w) {
    out.walls.push_back(judge_wall(job.walls[w], std::move(drawn[w]), several, run));
    CheckReport& own = out.walls.back().report;
    out.report.walls.push_back(named(job.walls[w], own.wall));
    if (several)
      own.title = fmt::format("{}, {}", own.title, wall_name(out.report.walls.back()));
  }
  if (several) {
    report_of_all(job, board_stated, out, run);
  } else {
    CheckReport& own = out.walls.front().report;
    own = report_of_one(job, std::move(own));
    std::vector<NamedWall> walls = std::move(out.report.walls);
    walls.front().wall.verdict = own.wall.verdict;
    out.report = own;
    out.report.walls = std::move(walls);
  }
  out.holes = std::move(job.holes);
  out.report.parts = parts;
  if (job.job)
    out.report.stated = job.job->stated;
  return out;
}

} // namespace leastwall
