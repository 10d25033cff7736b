#include "wall/sampling/land.h"

#include "base/maths/angles.h"
#include "base/parallel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

namespace leastwall {
namespace {

constexpr double kFeather_mm = 1e-3;
constexpr double kLevel = 0.70710678118654757 - 1e-9; // cosine of 45 degrees
constexpr double kCone_mm = 0.02;                     // size of the cone over a corner

/// Whether a cell lies under the face within 45 degrees of level.
bool lies_level_below(const std::array<Vec3, 3>& at, const LandOf& of) {
  if (std::min({at[0].z, at[1].z, at[2].z}) > of.top_z_mm - of.nudge_mm)
    return false; // it lies on the face: no wood
  const Vec3 across = cross(at[1] - at[0], at[2] - at[0]);
  return std::abs(across.z) > kLevel * length(across);
}

double land_at(Vec3 p, const LandOf& of) {
  return std::max(kFeather_mm, of.top_z_mm - p.z);
}

/// Whether wood lies over p up to the face.
bool wood_over(Vec3 p, const LandOf& of) {
  const Vec3 over = {p.x, p.y, of.top_z_mm - of.nudge_mm};
  p.z = std::min(p.z + of.nudge_mm, over.z);
  return !of.pocket_air->in_air(over) && !of.outside_air->in_air(p);
}

std::array<Vec3, 3> corners_of(const WallMap& skin, const Tri& c) {
  return {skin.samples[c[0]].at, skin.samples[c[1]].at, skin.samples[c[2]].at};
}

/// Which corners of cell `c` have land over them that is thinner than their wall: a bit for each.
unsigned corners_under_land(const WallMap& skin, const Tri& c, const LandOf& of) {
  const std::array<Vec3, 3> at = corners_of(skin, c);
  unsigned close = 0;
  for (unsigned k = 0; k < 3; ++k)
    if (land_at(at[k], of) < skin.samples[c[k]].wall_mm)
      close |= 1u << k;
  if (close == 0 || !lies_level_below(at, of))
    return 0;
  const Vec3 middle = (at[0] + at[1] + at[2]) / 3.0;
  for (unsigned k = 0; k < 3; ++k)
    // A little inwards: straight over a corner of the outline nothing can be told.
    if ((close >> k & 1u) != 0 && !wood_over(at[k] + (middle - at[k]) * 0.01, of))
      close &= ~(1u << k);
  return close;
}

void keep_least(std::optional<LandLeast>& least, const WallSample& s, std::uint32_t cell,
                const LandOf& of) {
  if (!least || s.wall_mm < least->place.wall_mm)
    least = LandLeast{{s.at, {s.at.x, s.at.y, of.top_z_mm}, s.n, s.wall_mm, s.wall_mm}, cell};
}

/// Samples inside cells have land of their own.
void lower_minima(WallMap& skin, const LandOf& of, const RunContext& run,
                  std::optional<LandLeast>& least) {
  std::vector<unsigned char> under(skin.minima.size(), 0);
  const std::size_t own = skin.own_samples().size();
  for_blocks(under.size(), 1 << 12, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      const WallMap::Minimum& m = skin.minima[i];
      if (m.sample >= own)
        continue;
      const WallSample& s = skin.samples[m.sample];
      under[i] = land_at(s.at, of) < s.wall_mm &&
                 lies_level_below(corners_of(skin, skin.cells[m.cell]), of) && wood_over(s.at, of);
    }
  });
  for (std::size_t i = 0; i < under.size(); ++i)
    if (under[i] != 0) {
      WallSample& s = skin.samples[skin.minima[i].sample];
      s.wall_mm = land_at(s.at, of);
      s.n = {0, 0, -1};
      keep_least(least, s, skin.minima[i].cell, of);
    }
}

/// Whether a cone of 45 degrees upwards from p, as far as the pocket face, is wood.
bool under_wood(Vec3 p, const LandOf& of) {
  const double below_face = of.top_z_mm - of.nudge_mm;
  for (int turn = 0; turn < 8; ++turn) {
    const double a = turn * std::numbers::pi / 4;
    const Vec3 q{p.x + kCone_mm * maths::cos(a), p.y + kCone_mm * maths::sin(a),
                 std::min(p.z + kCone_mm + of.nudge_mm, below_face)};
    if (of.skin->count(q).below % 2 == 0 || of.pocket_air->in_air({q.x, q.y, below_face}) ||
        of.outside_air->in_air(q))
      return false;
  }
  return true;
}

} // namespace

std::optional<LandLeast> measure_land(WallMap& skin, const LandOf& of, const RunContext& run) {
  std::vector<unsigned char> under(skin.cells.size(), 0);
  for_blocks(skin.cells.size(), 1 << 13, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i)
      under[i] = static_cast<unsigned char>(corners_under_land(skin, skin.cells[i], of));
  });
  const std::size_t own = skin.own_samples().size();
  std::vector<unsigned char> asked(own, 0),
      wood(own, 0); // corners of cells that are not under land
  for (std::uint32_t i = 0; i < skin.cells.size(); ++i)
    for (unsigned k = 0; k < 3; ++k)
      if (const WallSample& s = skin.samples[skin.cells[i][k]];
          (under[i] >> k & 1u) == 0 && land_at(s.at, of) < s.wall_mm)
        asked[skin.cells[i][k]] = 1;
  for_blocks(own, 1 << 10, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i)
      if (asked[i] != 0)
        wood[i] = under_wood(skin.samples[i].at, of);
  });
  for (std::uint32_t i = 0; i < skin.cells.size(); ++i)
    for (unsigned k = 0; k < 3; ++k)
      if (wood[skin.cells[i][k]] != 0)
        under[i] = static_cast<unsigned char>(under[i] | 1u << k);
  std::optional<LandLeast> least;
  for (std::uint32_t i = 0; i < skin.cells.size(); ++i)
    for (unsigned k = 0; k < 3; ++k) {
      if ((under[i] >> k & 1u) == 0)
        continue;
      WallSample& s = skin.samples[skin.cells[i][k]];
      const double land = land_at(s.at, of);
      if (!(land < s.wall_mm))
        continue; // another cell at this corner came first
      s.wall_mm = land;
      s.n = {0, 0, -1};
      keep_least(least, s, i, of);
    }
  lower_minima(skin, of, run, least);
  return least;
}

std::optional<double> least_land(const TriMesh& mesh, const LandOf& of, const RunContext& run) {
  WallMap map;
  for (const Vec3& v : mesh.vertices)
    map.samples.push_back({v, {0, 0, -1}, std::numeric_limits<double>::infinity()});
  map.cells = mesh.triangles;
  const std::optional<LandLeast> least = measure_land(map, of, run);
  return least ? std::optional(least->place.wall_mm) : std::nullopt;
}

} // namespace leastwall
