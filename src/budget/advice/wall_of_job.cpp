#include "budget/advice/wall_of_job.h"

#include "base/assumption.h"
#include "causes/causes.h"
#include "setup/number_data.h"

#include <cstddef>
#include <utility>

namespace leastwall {
namespace {

bool same(const Uncertain& a, const Uncertain& b) {
  return a.size_mm == b.size_mm && a.knowledge == b.knowledge;
}

/// What `own` states as `before` did becomes what `after` states.
void follow(SideSetup& own, const SideSetup& before, const SideSetup& after) {
  const auto if_same = [&](auto SideSetup::*field) {
    if (own.*field == before.*field)
      own.*field = after.*field;
  };
  if_same(&SideSetup::zero);
  if_same(&SideSetup::touch_point);
  if_same(&SideSetup::plate_error_mm);
  if_same(&SideSetup::assumed_thickness_mm);
  if (same(own.touch_off, before.touch_off))
    own.touch_off = after.touch_off;
  if (own.bit.zero == before.bit.zero && same(own.bit.setter, before.bit.setter)) {
    own.bit.zero = after.bit.zero;
    own.bit.setter = after.bit.setter;
  }
  if (own.roughing && before.roughing && after.roughing &&
      own.roughing->allowance_mm == before.roughing->allowance_mm)
    own.roughing->allowance_mm = after.roughing->allowance_mm;
}

} // namespace

std::vector<WallOfJob> with_change(std::span<const WallOfJob> walls, const Setup& changed) {
  std::vector<WallOfJob> out(walls.begin(), walls.end());
  const Setup& before = walls.front().setup;
  out.front().setup = changed;
  for (std::size_t w = 1; w < out.size(); ++w) {
    Setup& setup = out[w].setup;
    setup.board = changed.board;
    setup.bed = changed.bed;
    setup.flip = changed.flip;
    for (const auto& [cut, how] :
         {std::pair{&setup.inner_cut, &setup.inner}, std::pair{&setup.outer_cut, &setup.outer}}) {
      // The same set-up before another one of that side.
      const bool inner = *cut == before.inner_cut ||
                         (*cut != before.outer_cut && cut->side == before.inner_cut.side);
      if (inner)
        follow(*how, before.inner, changed.inner);
      else if (cut->side == before.outer_cut.side)
        follow(*how, before.outer, changed.outer);
    }
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
                   const RunContext& run) {
  std::vector<std::vector<Cause>> causes;
  std::vector<JudgedWall> judged;
  for (const WallOfJob& wall : walls) {
    std::vector<Assumption> ignored;
    causes.push_back(causes_of(wall.setup, ignored));
  }
  for (std::size_t w = 0; w < walls.size(); ++w)
    judged.push_back({causes[w], walls[w].samples, walls[w].over_mm});
  return outcome_of(std::span<const JudgedWall>(judged), options, run);
}

} // namespace leastwall
