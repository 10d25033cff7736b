#include "wall/land.h"

#include "base/parallel.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leastwall {
namespace {

constexpr double kFeather_mm = 1e-3;
constexpr double kLevel = 0.70710678118654757; // cosine of 45 degrees

/// Which corners of cell `c` have land over them that is thinner than their wall: a bit for each.
unsigned corners_under_land(const WallMap& skin, const Tri& c, const LandOf& of) {
  const std::array<Vec3, 3> at = {skin.samples[c[0]].at, skin.samples[c[1]].at,
                                  skin.samples[c[2]].at};
  unsigned close = 0;
  for (unsigned k = 0; k < 3; ++k)
    if (std::max(kFeather_mm, of.top_z_mm - at[k].z) < skin.samples[c[k]].wall_mm)
      close |= 1u << k;
  if (close == 0)
    return 0;
  const Vec3 across = cross(at[1] - at[0], at[2] - at[0]);
  if (!(std::abs(across.z) > kLevel * length(across)))
    return 0;
  const Vec3 middle = (at[0] + at[1] + at[2]) / 3.0;
  for (unsigned k = 0; k < 3; ++k) {
    if ((close >> k & 1u) == 0)
      continue;
    // A little inwards: straight over a corner of the outline nothing can be told.
    Vec3 p = at[k] + (middle - at[k]) * 0.01;
    const Vec3 over = {p.x, p.y, of.top_z_mm - of.nudge_mm};
    p.z = std::min(p.z + of.nudge_mm, over.z);
    if (of.pocket_air->in_air(over) || of.outside_air->in_air(p))
      close &= ~(1u << k);
  }
  return close;
}

} // namespace

std::optional<LandLeast> measure_land(WallMap& skin, const LandOf& of, const RunContext& run) {
  std::vector<unsigned char> under(skin.cells.size(), 0);
  for_blocks(skin.cells.size(), 1 << 13, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i)
      under[i] = static_cast<unsigned char>(corners_under_land(skin, skin.cells[i], of));
  });
  std::optional<LandLeast> least;
  for (std::uint32_t i = 0; i < skin.cells.size(); ++i)
    for (unsigned k = 0; k < 3; ++k) {
      if ((under[i] >> k & 1u) == 0)
        continue;
      WallSample& s = skin.samples[skin.cells[i][k]];
      const double land = std::max(kFeather_mm, of.top_z_mm - s.at.z);
      if (!(land < s.wall_mm))
        continue; // another cell at this corner came first
      s.wall_mm = land;
      s.n = {0, 0, -1};
      if (!least || land < least->place.wall_mm)
        least = LandLeast{{s.at, {s.at.x, s.at.y, of.top_z_mm}, s.n, land, land}, i};
    }
  return least;
}

} // namespace leastwall
