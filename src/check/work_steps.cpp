#include "check/work_steps.h"

#include "base/text/listed.h"
#include "report/sheet/setup_card.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <fmt/format.h>
#include <string>
#include <utility>

namespace leastwall {
namespace {

/// What bounds a wall, and in which set-up it is cut.
struct Cut {
  const CutId* id = nullptr;
  const SideSetup* how = nullptr;
  const std::string* name = nullptr;
};

std::vector<Cut> cuts_of_wall(const JobResult& job, std::size_t w) {
  const Setup& setup = job.walls[w].setup;
  const NamedWall& wall = job.report.walls[w];
  return {{&setup.inner_cut, &setup.inner, &wall.inner},
          {&setup.outer_cut, &setup.outer, &wall.outer}};
}

/// A set-up of a board: boards one after the other, side A before side B, in the order of cutting.
struct StepKey {
  std::uint32_t board = 0;
  Side side = Side::a;
  std::uint32_t set_up = 0;
  auto operator<=>(const StepKey&) const = default;
};

/// Whether a pocket of this row is cut in the step, and poured behind it.
bool follows(const PourRow& row, const SheetStep& step) {
  return step.side == Side::a && step.set_up == row.set_up &&
         std::ranges::any_of(row.on_board, [&step](const PourRow::OnBoard& part) {
           return part.board == step.board;
         });
}

StepKey step_of(const CutId& id) {
  return {id.board, id.side, id.set_up};
}

void add_once(std::vector<std::string>& names, const std::string& name) {
  if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end())
    names.push_back(name);
}

class Steps {
 public:
  explicit Steps(const JobResult& job) : job_(job) {}

  std::vector<WorkStep> build() {
    std::vector<StepKey> order;
    for (std::size_t w = 0; w < job_.walls.size(); ++w)
      for (const Cut& cut : cuts_of_wall(job_, w))
        if (std::ranges::find(order, step_of(*cut.id)) == order.end())
          order.push_back(step_of(*cut.id));
    std::sort(order.begin(), order.end());
    std::vector<WorkStep> steps;
    for (std::size_t i = 0; i < order.size(); ++i) {
      steps.push_back(step(order[i], order.back().board > 0));
      SheetStep& added = steps.back().step;
      added.number = i + 1;
      added.of = order.size();
      added.boards = order.back().board + 1;
      if (i > 0 && order[i - 1].board == order[i].board)
        added.of_board = steps[i - 1].step.of_board + 1;
    }
    return steps;
  }

 private:
  WorkStep step(const StepKey& key, bool several_boards) const {
    const auto [board, side, set_up] = key;
    WorkStep out;
    out.step.side = side;
    out.step.board = board;
    out.step.set_up = set_up;
    out.setup = job_.walls[job_.skins.front()].setup;
    out.report = job_.report;
    std::vector<std::string> names, parts, poured;
    std::vector<std::pair<double, RegionRow>> places;
    for (std::size_t w = 0; w < job_.walls.size(); ++w) {
      const NamedWall& wall = job_.report.walls[w];
      bool bounds = false;
      for (const Cut& cut : cuts_of_wall(job_, w)) {
        if (step_of(*cut.id) != key)
          continue;
        bounds = true;
        add_once(names, *cut.name);
        add_once(parts, wall.part);
        // The cut with the touch of the set-up itself, not a drill's.
        if (cut.id->touch == set_up) {
          (side == Side::a ? out.setup.inner : out.setup.outer) = *cut.how;
          (side == Side::a ? out.setup.inner_cut : out.setup.outer_cut) = *cut.id;
        }
      }
      for (std::size_t i = 0; bounds && i < wall.wall.regions.size(); ++i) {
        RegionRow row = wall.wall.regions[i];
        row.of_wall = w + 1;
        row.of_place = i + 1;
        places.emplace_back(row.least_wall_mm - wall.wall.limit_mm, row);
      }
      if (side == Side::a && job_.walls[w].setup.of_fill &&
          step_of(job_.walls[w].setup.outer_cut) == key)
        add_once(poured, fmt::format("{} into {}", wall_material(wall), wall.outer));
    }
    for (std::size_t i = 0; side == Side::a && job_.pour && i < job_.pour->report.rows.size(); ++i)
      if (const PourRow& row = job_.pour->report.rows[i]; follows(row, out.step))
        add_once(poured, fmt::format("{} into {}", row.name.material, row.name.pocket));
    // Least to spare first.
    std::ranges::stable_sort(places, {}, &std::pair<double, RegionRow>::first);
    out.report.wall.regions.clear();
    for (auto& [spare, row] : places)
      out.report.wall.regions.push_back(row);
    out.step.cuts = (several_boards ? fmt::format("board {}: ", board + 1) : "") + listed(names) +
                    (parts.size() > 1 || several_boards ? "; of " + listed(parts) : "");
    if (!poured.empty())
      out.step.then = fmt::format("Pour {}; let it cure as its data sheet says before the board "
                                  "goes on.",
                                  listed(poured));
    else if (side == Side::a)
      out.step.then = "Where resin is poured: let it cure as its data sheet says before the board "
                      "goes on.";
    return out;
  }

  const JobResult& job_;
};

} // namespace

std::vector<WorkStep> work_steps(const JobResult& job) {
  return Steps(job).build();
}

std::vector<PartMark> part_marks(const JobResult& job, std::uint32_t board) {
  std::vector<PartMark> parts;
  for (const std::size_t w : job.skins) {
    if (job.walls[w].setup.outer_cut.board != board)
      continue;
    const Box& box = job.walls[w].report.box;
    parts.push_back({job.report.walls[w].part,
                     {{box.low.x, box.low.y}, {box.high.x, box.high.y}},
                     job.walls[w].wall.skin.samples.size()});
  }
  return parts;
}

std::vector<HoleMark> hole_marks(const JobResult& job, std::uint32_t board) {
  std::vector<HoleMark> holes;
  for (const HoleOnBoard& hole : job.holes)
    if (hole.board == board)
      holes.push_back(hole.mark);
  return holes;
}

std::uint32_t boards_of(const JobResult& job) {
  std::uint32_t last = 0;
  for (const CheckResult& wall : job.walls)
    last = std::max(last, wall.setup.outer_cut.board);
  return last + 1;
}

namespace {

/// What a board has on it, for the drawings.
struct BoardMarks {
  std::vector<PartMark> parts;
  std::vector<HoleMark> holes;
  WallMap skins; ///< of all parts: their outlines, and where no datum can be touched
};

BoardMarks marks_of(const JobResult& job, std::uint32_t board) {
  BoardMarks out{part_marks(job, board), hole_marks(job, board), {}};
  for (const std::size_t w : job.skins) {
    if (job.walls[w].setup.outer_cut.board != board)
      continue;
    const WallMap& skin = job.walls[w].wall.skin;
    const auto before = static_cast<std::uint32_t>(out.skins.samples.size());
    out.skins.samples.insert(out.skins.samples.end(), skin.samples.begin(), skin.samples.end());
    for (const Tri& cell : skin.cells)
      out.skins.cells.push_back({cell[0] + before, cell[1] + before, cell[2] + before});
  }
  return out;
}

/// Of each step the rows of the pour that follow it.
std::vector<std::vector<std::size_t>> pours_of(const JobResult& job,
                                               const std::vector<WorkStep>& steps) {
  std::vector<std::vector<std::size_t>> out(steps.size());
  for (std::size_t row = 0; job.pour && row < job.pour->report.rows.size(); ++row)
    for (std::size_t i = 0; i < steps.size(); ++i)
      if (follows(job.pour->report.rows[row], steps[i].step))
        out[i].push_back(row);
  return out;
}

/// What the pages of a sheet are drawn from, one a step.
class StepPages {
 public:
  explicit StepPages(const JobResult& job)
      : steps_(work_steps(job)), pours_(pours_of(job, steps_)) {
    for (std::uint32_t b = 0; b < boards_of(job); ++b)
      boards_.push_back(marks_of(job, b));
    const bool flip_stated = job.governing_wall().flip_stated;
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      const WorkStep& step = steps_[i];
      const BoardMarks& on = boards_[step.step.board];
      pages_.push_back({step.report,
                        step.setup,
                        flip_stated,
                        &on.skins,
                        {},
                        &step.step,
                        on.parts,
                        on.holes,
                        job.pour.get(),
                        pours_[i]});
      pages_.back().dowel_hole_mm = 2 * job.flip_hole_radius_mm;
      pages_.back().board_stated = job.board_stated;
    }
  }
  StepPages(const StepPages&) = delete;
  StepPages& operator=(const StepPages&) = delete;

  const std::vector<SetupSheetInput>& pages() const { return pages_; }

 private:
  std::vector<WorkStep> steps_;
  std::vector<std::vector<std::size_t>> pours_;
  std::vector<BoardMarks> boards_;
  std::vector<SetupSheetInput> pages_;
};

} // namespace

SectionPictureInput governing_section(const JobResult& job) {
  const CheckResult& r = job.governing_wall();
  SectionPictureInput shown{r.wall, r.budget.expected_mm, r.budget.worst_mm, r.budget.least.sample,
                            r.report};
  if (const CheckReport& all = job.report; all.governing < all.walls.size()) {
    shown.inner = all.walls[all.governing].inner;
    shown.outer = all.walls[all.governing].outer;
    shown.of_several = all.walls.size() > 1;
  }
  return shown;
}

std::string job_sheet(const JobResult& job, const SetupSheetOptions& options) {
  const StepPages steps(job);
  CheckReport all = job.report;
  all.wall.regions.clear(); // the steps show them
  const SetupSheetInput& first = steps.pages().front();
  const SectionPictureInput section = governing_section(job);
  SetupSheetInput whole{all, first.setup, first.flip_stated, first.skin,
                        {},  nullptr,     first.parts,       first.holes};
  whole.section = &section;
  whole.board_stated = job.board_stated;
  return steps_sheet(whole, steps.pages(), options);
}

std::string job_card(const JobResult& job, const SetupSheetOptions& options) {
  std::vector<CardStep> card;
  if (job.walls.size() == 1) {
    const CheckResult& r = job.governing_wall();
    SetupSheetInput both{r.report, r.setup, r.flip_stated, &r.wall.skin, r.budget.worst_mm};
    const std::vector<HoleMark> holes = hole_marks(job);
    both.holes = holes;
    for (const Side side : {Side::a, Side::b})
      card.push_back({&both, side});
    return setup_card(r.report, card, options);
  }
  const StepPages steps(job);
  for (const SetupSheetInput& step : steps.pages())
    card.push_back({&step, step.step->side});
  return setup_card(job.report, card, options);
}

} // namespace leastwall
