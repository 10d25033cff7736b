#include "wall/seen_from_pocket.h"

#include "base/parallel.h"
#include "wall/least_wall.h"
#include "wall/near_boxes.h"
#include "wall/new_pairs.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 1 << 13;

Box box_of(const Vec3& a, const Vec3& b, const Vec3& c) {
  Box box;
  box.add(a);
  box.add(b);
  box.add(c);
  return box;
}

/// Numbers of [0, n) that are wanted, ascending.
template <class Wanted>
std::vector<std::uint32_t> chosen(std::size_t n, const RunContext& run, const Wanted& wanted) {
  std::vector<std::vector<std::uint32_t>> parts((n + kGrain - 1) / kGrain);
  for_blocks(n, kGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i)
      if (wanted(i))
        parts[begin / kGrain].push_back(static_cast<std::uint32_t>(i));
  });
  std::vector<std::uint32_t> all;
  for (const std::vector<std::uint32_t>& part : parts)
    all.insert(all.end(), part.begin(), part.end());
  return all;
}

/// Some triangles of a surface as a mesh of their own. `corner(i)` is the place of corner i, of n.
template <class Corner>
TriMesh part_of(const std::vector<Tri>& triangles, const std::vector<std::uint32_t>& kept,
                std::size_t n, const Corner& corner) {
  constexpr std::uint32_t kNone = 0xffffffff;
  std::vector<std::uint32_t> number(n, kNone);
  TriMesh part;
  part.triangles.reserve(kept.size());
  for (const std::uint32_t k : kept) {
    Tri t = triangles[k];
    for (std::uint32_t& v : t) {
      if (number[v] == kNone) {
        number[v] = static_cast<std::uint32_t>(part.vertices.size());
        part.vertices.push_back(corner(v));
      }
      v = number[v];
    }
    part.triangles.push_back(t);
  }
  return part;
}

/// Weights of the corners of `cell` at a point in it.
std::array<double, 3> weights_in(const WallMap& map, const Tri& cell, Vec3 p) {
  const Vec3 a = map.samples[cell[0]].at;
  const Vec3 u = map.samples[cell[1]].at - a, v = map.samples[cell[2]].at - a, w = p - a;
  const double uu = dot(u, u), uv = dot(u, v), vv = dot(v, v), wu = dot(w, u), wv = dot(w, v);
  const double area = uu * vv - uv * uv;
  if (!(area > 0))
    return {1, 0, 0};
  const double second = std::clamp((wu * vv - wv * uv) / area, 0.0, 1.0);
  const double third = std::clamp((wv * uu - wu * uv) / area, 0.0, 1 - second);
  return {1 - second - third, second, third};
}

/// Do the corners of the cell stand for this pair, as the header says?
bool known_there(const WallMap& map, const Tri& cell, const WallSample& pair,
                 const PairSlack& slack) {
  const std::array<double, 3> l = weights_in(map, cell, pair.at);
  double wall = 0;
  Vec3 n;
  for (std::size_t i = 0; i < 3; ++i) {
    wall += l[i] * map.samples[cell[i]].wall_mm;
    n += map.samples[cell[i]].n * l[i];
  }
  return stands_for(wall, n, pair, slack);
}

/// A sample of the pocket as its pair looks from the skin.
WallSample pair_of(const WallSample& pocket) {
  return {pocket.at + pocket.n * pocket.wall_mm, pocket.n, pocket.wall_mm};
}

} // namespace

void add_seen_from_pocket(WallMap& skin, const TriMesh& pocket, const AirSide& side,
                          const RefineOptions& spacing, const RunContext& run) {
  const double ceiling = spacing.ceiling_mm;
  skin.first_pair = skin.samples.size();
  skin.pair_cube_mm = ceiling;
  const auto corner = [&](std::uint32_t i) { return skin.samples[i].at; };
  const std::vector<std::uint32_t> thin = chosen(skin.cells.size(), run, [&](std::size_t k) {
    const Tri& c = skin.cells[k];
    return std::ranges::any_of(c, [&](std::uint32_t v) { return skin.samples[v].wall_mm <= 0; }) ||
           cell_floor(skin, c) < ceiling;
  });
  if (thin.empty())
    return;
  NearBoxes near(pocket.box(), ceiling);
  for (const std::uint32_t k : thin) {
    const Tri& c = skin.cells[k];
    near.mark(box_of(corner(c[0]), corner(c[1]), corner(c[2])), ceiling);
  }
  const std::vector<std::uint32_t> facets =
      chosen(pocket.triangles.size(), run, [&](std::size_t k) {
        const Tri& t = pocket.triangles[k];
        return near.touches(
            box_of(pocket.vertices[t[0]], pocket.vertices[t[1]], pocket.vertices[t[2]]));
      });
  if (facets.empty())
    return;
  const TriMesh there = part_of(skin.cells, thin, skin.samples.size(), corner);
  const TriMesh here = part_of(pocket.triangles, facets, pocket.vertices.size(),
                               [&](std::uint32_t i) { return pocket.vertices[i]; });
  const ClosestSurface tree(there);
  const WallProbe probe(tree, side, false);
  RefinedMap seen = refine(refine_start(here, run), probe, spacing, run);
  add_spots(seen.map, probe, ceiling, run);

  const std::vector<WallSample>& from = seen.map.samples;
  PairSlack slack;
  slack.move_mm = ceiling;
  std::vector<std::uint32_t> cell(from.size());
  const std::vector<std::uint32_t> fresh = chosen(from.size(), run, [&](std::size_t i) {
    if (!(std::abs(from[i].wall_mm) < ceiling))
      return false;
    const WallSample pair = pair_of(from[i]);
    cell[i] = thin[i < seen.nearest.size() ? seen.nearest[i] : tree.nearest(pair.at).triangle];
    return !known_there(skin, skin.cells[cell[i]], pair, slack);
  });
  std::vector<WallSample> pairs;
  for (const std::uint32_t i : fresh)
    pairs.push_back(pair_of(from[i]));
  for (const std::uint32_t k : new_pairs(skin.samples, pairs, skin.pair_cube_mm, slack, run)) {
    skin.spots.push_back({static_cast<std::uint32_t>(skin.samples.size()), cell[fresh[k]]});
    skin.samples.push_back(pairs[k]);
  }
}

} // namespace leastwall
