#include "budget/advice/wall_of_job.h"

#include "base/assumption.h"
#include "causes/causes.h"
#include "setup/number_data.h"

#include <array>
#include <cstddef>
#include <utility>

namespace leastwall {
namespace {

/// Takes from `after` what may be changed about a set-up, but for what `own` states itself.
void follow(SideSetup& own, const SideSetup::Stated& stated, const SideSetup& after) {
  if (!stated.zero)
    own.zero = after.zero;
  if (!stated.touch_point)
    own.touch_point = after.touch_point;
  if (!stated.touch_off)
    own.touch_off = after.touch_off;
  if (!stated.plate_error)
    own.plate_error_mm = after.plate_error_mm;
  if (!stated.thickness)
    own.assumed_thickness_mm = after.assumed_thickness_mm;
  if (!stated.bit) {
    own.bit.zero = after.bit.zero;
    own.bit.setter = after.bit.setter;
  }
  if (!stated.roughing && own.roughing && after.roughing)
    own.roughing->allowance_mm = after.roughing->allowance_mm;
}

/// One of the two cuts of the changed wall: how it was and is made.
struct Changed {
  const CutId& cut;
  const SideSetup &before, &after;
};

/// The same set-up changes as a whole (a drill in it keeps its own bit); what a pocket's table
/// leaves to the job changes with the job's.
void follow(const CutId& cut, SideSetup& own, const std::array<Changed, 2>& changes) {
  for (const Changed& c : changes)
    if (cut.side == c.cut.side && cut.set_up == c.cut.set_up) {
      SideSetup::Stated drill;
      drill.bit = drill.roughing = cut.touch != c.cut.touch;
      return follow(own, drill, c.after);
    }
  for (const Changed& c : changes)
    if (cut.side == c.cut.side && c.before.pocket_key.empty())
      return follow(own, own.stated, c.after);
}

} // namespace

std::vector<WallOfJob> with_change(std::span<const WallOfJob> walls, const Setup& changed) {
  std::vector<WallOfJob> out(walls.begin(), walls.end());
  const Setup& before = walls.front().setup;
  const std::array<Changed, 2> changes{Changed{before.inner_cut, before.inner, changed.inner},
                                       Changed{before.outer_cut, before.outer, changed.outer}};
  out.front().setup = changed;
  for (std::size_t w = 1; w < out.size(); ++w) {
    Setup& setup = out[w].setup;
    setup.board = changed.board;
    setup.bed = changed.bed;
    setup.flip = changed.flip;
    follow(setup.inner_cut, setup.inner, changes);
    follow(setup.outer_cut, setup.outer, changes);
  }
  std::vector<Setup> setups;
  for (const WallOfJob& wall : out)
    setups.push_back(wall.setup);
  number_data(setups);
  for (std::size_t w = 0; w < out.size(); ++w)
    out[w].setup = std::move(setups[w]);
  return out;
}

Outcome outcome_of(std::span<const WallOfJob> walls, const OutcomeOptions& options,
                   const RunContext& run, const CausesOf& causes_of_setup) {
  std::vector<std::vector<Cause>> causes;
  for (const WallOfJob& wall : walls)
    causes.push_back(causes_of_setup(wall.setup));
  std::vector<JudgedWall> judged;
  for (std::size_t w = 0; w < walls.size(); ++w)
    judged.push_back({causes[w], walls[w].samples, walls[w].over_mm, walls[w].thin_first});
  return outcome_of(std::span<const JudgedWall>(judged), options, run);
}

Outcome outcome_of(std::span<const WallOfJob> walls, const OutcomeOptions& options,
                   const RunContext& run) {
  return outcome_of(walls, options, run, [](const Setup& setup) {
    std::vector<Assumption> ignored;
    return causes_of(setup, ignored);
  });
}

} // namespace leastwall
