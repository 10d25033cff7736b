#include "check/work_steps.h"

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

bool in_step(const CutId& id, Side side, std::uint32_t set_up) {
  return id.side == side && id.set_up == set_up;
}

void add_once(std::vector<std::string>& names, const std::string& name) {
  if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end())
    names.push_back(name);
}

std::string listed(const std::vector<std::string>& names) {
  std::string out;
  for (std::size_t i = 0; i < names.size(); ++i)
    out += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
  return out;
}

class Steps {
 public:
  explicit Steps(const JobResult& job) : job_(job) {}

  std::vector<WorkStep> build() {
    std::vector<std::pair<Side, std::uint32_t>> order;
    for (std::size_t w = 0; w < job_.walls.size(); ++w)
      for (const Cut& cut : cuts_of_wall(job_, w))
        if (const std::pair<Side, std::uint32_t> key{cut.id->side, cut.id->set_up};
            std::find(order.begin(), order.end(), key) == order.end())
          order.push_back(key);
    std::sort(order.begin(), order.end());
    std::vector<WorkStep> steps;
    for (std::size_t i = 0; i < order.size(); ++i) {
      steps.push_back(step(order[i].first, order[i].second));
      steps.back().step.number = i + 1;
      steps.back().step.of = order.size();
    }
    return steps;
  }

 private:
  WorkStep step(Side side, std::uint32_t set_up) const {
    WorkStep out;
    out.step.side = side;
    out.setup = job_.walls[job_.skins.front()].setup;
    out.report = job_.report;
    std::vector<std::string> names, parts, poured;
    std::vector<std::pair<double, RegionRow>> places;
    for (std::size_t w = 0; w < job_.walls.size(); ++w) {
      const NamedWall& wall = job_.report.walls[w];
      bool bounds = false;
      for (const Cut& cut : cuts_of_wall(job_, w)) {
        if (!in_step(*cut.id, side, set_up))
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
      if (bounds)
        for (const RegionRow& row : wall.wall.regions)
          places.emplace_back(row.least_wall_mm - wall.wall.limit_mm, row);
      if (side == Side::a && job_.walls[w].setup.of_fill &&
          in_step(job_.walls[w].setup.outer_cut, side, set_up))
        add_once(poured, fmt::format("{} into {}", wall_material(wall), wall.outer));
    }
    // Least to spare first.
    std::ranges::stable_sort(places, {}, &std::pair<double, RegionRow>::first);
    out.report.wall.regions.clear();
    for (auto& [spare, row] : places)
      out.report.wall.regions.push_back(std::move(row));
    out.step.cuts = listed(names) + (parts.size() > 1 ? "; of " + listed(parts) : "");
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

std::vector<PartMark> part_marks(const JobResult& job) {
  std::vector<PartMark> parts;
  for (const std::size_t w : job.skins) {
    const Box& box = job.walls[w].report.box;
    parts.push_back({job.report.walls[w].part, {{box.low.x, box.low.y}, {box.high.x, box.high.y}}});
  }
  return parts;
}

std::string job_sheet(const JobResult& job, const SetupSheetOptions& options) {
  const std::vector<WorkStep> steps = work_steps(job);
  const std::vector<PartMark> parts = part_marks(job);
  // All skins together, where no datum can be touched.
  WallMap skins;
  for (const std::size_t w : job.skins) {
    const std::vector<WallSample>& skin = job.walls[w].wall.skin.samples;
    skins.samples.insert(skins.samples.end(), skin.begin(), skin.end());
  }
  const bool flip_stated = job.governing_wall().flip_stated;
  std::vector<HoleMark> holes;
  for (const HoleOnBoard& hole : job.holes)
    holes.push_back({hole.name, hole.at, hole.diameter_mm});
  std::vector<SetupSheetInput> pages;
  for (const WorkStep& step : steps)
    pages.push_back({step.report, step.setup, flip_stated, &skins, {}, &step.step, parts, holes});
  CheckReport all = job.report;
  all.wall.regions.clear(); // the steps show them
  return steps_sheet({all, steps.front().setup, flip_stated, &skins, {}, nullptr, parts, holes},
                     pages, options);
}

} // namespace leastwall
