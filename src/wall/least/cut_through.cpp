#include "wall/least/cut_through.h"

#include "wall/least/depth_search.h"
#include "wall/sampling/measure_bounds.h"

#include <algorithm>

namespace leastwall {

CutThrough cut_through(const RefinedMap& skin, const WallProbe& skin_probe,
                       const RefinedMap& pocket, const WallProbe& pocket_probe,
                       const std::optional<CellPair>& touch, std::uint64_t max_steps,
                       const RunContext& run) {
  const std::uint64_t most = max_divided(skin_probe.there().mesh().triangles.size() +
                                         pocket_probe.there().mesh().triangles.size());
  const Deepest from_skin = deepest(skin, skin_probe, most, max_steps / 2, run);
  const Deepest from_pocket =
      deepest(pocket, pocket_probe, most, max_steps - std::min(max_steps, from_skin.steps), run);
  CutThrough out;
  out.divided = from_skin.divided + from_pocket.divided;
  out.steps = from_skin.steps + from_pocket.steps;
  for (const Deepest* found : {&from_skin, &from_pocket})
    if (!found->settled)
      out.at_most_mm = std::max(out.at_most_mm.value_or(0), -found->floor_mm);
  if (from_skin.sample &&
      (!from_pocket.sample || from_skin.sample->wall_mm <= from_pocket.sample->wall_mm)) {
    const WallSample& s = *from_skin.sample;
    out.deepest = {s.at, skin_probe.there().nearest(s.at).point, s.n, s.wall_mm, {}};
  } else if (from_pocket.sample) {
    const WallSample& s = *from_pocket.sample;
    out.deepest = {pocket_probe.there().nearest(s.at).point, s.at, s.n, s.wall_mm, {}};
  } else if (touch) { // they touch and no more
    out.deepest = {touch->pair.on_first, touch->pair.on_second, Vec3{0, 0, -1}, 0.0, {}};
  }
  out.cell = cell_at(skin.map, out.deepest.skin, run);
  return out;
}

} // namespace leastwall
