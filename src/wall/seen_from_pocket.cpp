#include "wall/seen_from_pocket.h"

#include "base/parallel.h"
#include "mesh/facet_area.h"
#include "wall/least/least_wall.h"
#include "wall/sampling/near_boxes.h"
#include "wall/sampling/new_pairs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <compare>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 1 << 13;
constexpr double kSlabCells = 150000; // about, looked from at a time
constexpr double kMaxSlabs = 64;

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

bool apart(const Box& a, const Box& b) {
  return a.high.x < b.low.x || b.high.x < a.low.x || a.high.y < b.low.y || b.high.y < a.low.y ||
         a.high.z < b.low.z || b.high.z < a.low.z;
}

/// A pair and the cell of the skin that its skin point lies in.
struct Seen {
  std::vector<WallSample> pairs;
  std::vector<std::uint32_t> cells;
  SeenFromPocket took;
};

/// Looks from one slab of the pocket after the other, so that what it takes is let go again.
class Look {
 public:
  Look(const WallMap& skin, const TriMesh& pocket, const SideClassifier& side,
       const RefineOptions& spacing, const RunContext& run)
      : skin_(skin), pocket_(pocket), side_(side), spacing_(spacing), run_(run) {
    // What the skin has not seen is found wider apart; the thinnest points are then found exactly.
    spacing_.fine_spacing_mm = std::min(2 * spacing.fine_spacing_mm, spacing.coarse_spacing_mm);
    spacing_.only_thinner = true; // than what the skin has seen
    thin_ = chosen(skin.cells.size(), run, [&](std::size_t k) {
      const Tri& c = skin.cells[k];
      return std::ranges::any_of(c,
                                 [&](std::uint32_t v) { return skin.samples[v].wall_mm <= 0; }) ||
             cell_floor(skin, c) < spacing.ceiling_mm;
    });
  }

  /// How far apart neighbours that are found may be.
  double apart_mm() const { return spacing_.coarse_spacing_mm; }

  Seen all() {
    Seen seen;
    for (const std::vector<std::uint32_t>& facets : slabs())
      look(facets, seen);
    return seen;
  }

 private:
  Box cell_box(std::uint32_t k) const {
    const Tri& c = skin_.cells[k];
    return box_of(skin_.samples[c[0]].at, skin_.samples[c[1]].at, skin_.samples[c[2]].at);
  }
  Box facet_box(std::size_t k) const {
    const Tri& t = pocket_.triangles[k];
    return box_of(pocket_.vertices[t[0]], pocket_.vertices[t[1]], pocket_.vertices[t[2]]);
  }

  /// Facets of the pocket near thin cells, across the longest side of the pocket.
  std::vector<std::vector<std::uint32_t>> slabs() {
    if (thin_.empty())
      return {};
    const Box box = pocket_.box();
    NearBoxes near(box, spacing_.ceiling_mm);
    for (const std::uint32_t k : thin_) {
      near.mark(cell_box(k), spacing_.ceiling_mm);
      thin_box_.add(cell_box(k));
    }
    const Vec3 ceiling{spacing_.ceiling_mm, spacing_.ceiling_mm, spacing_.ceiling_mm};
    thin_box_.low = thin_box_.low - ceiling;
    thin_box_.high = thin_box_.high + ceiling;
    const std::vector<std::uint32_t> facets = chosen(
        pocket_.triangles.size(), run_, [&](std::size_t k) { return near.touches(facet_box(k)); });
    const Vec3 size = box.size();
    struct Place {
      double along;
      std::uint32_t facet;
      auto operator<=>(const Place&) const = default;
    };
    std::vector<Place> places;
    for (const std::uint32_t k : facets) {
      const Vec3 m = facet_box(k).middle();
      places.push_back({size.x >= size.y && size.x >= size.z ? m.x
                        : size.y >= size.z                   ? m.y
                                                             : m.z,
                        k});
    }
    sort_in_parallel(places.begin(), places.end());
    // Of a facet only what is near the thin cells is cut finely: no more than their whole box.
    const Vec3 thin = thin_box_.size();
    const double max_mm2 = thin.x * thin.y + thin.y * thin.z + thin.z * thin.x;
    std::vector<double> cells(places.size());
    double sum = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
      const Tri& t = pocket_.triangles[places[i].facet];
      const double area = facet_area(pocket_, t);
      cells[i] =
          1 + 4 * std::min(area, max_mm2) / (spacing_.fine_spacing_mm * spacing_.fine_spacing_mm);
      sum += cells[i];
    }
    const double room = std::max(kSlabCells, sum / kMaxSlabs);
    std::vector<std::vector<std::uint32_t>> slabs;
    double taken = room;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (taken >= room) {
        slabs.emplace_back();
        taken = 0;
      }
      slabs.back().push_back(places[i].facet);
      taken += cells[i];
    }
    return slabs;
  }

  void look(const std::vector<std::uint32_t>& facets, Seen& seen) {
    const double ceiling = spacing_.ceiling_mm;
    Box box;
    for (const std::uint32_t k : facets)
      box.add(facet_box(k));
    box.low = box.low - Vec3{ceiling, ceiling, ceiling};
    box.high = box.high + Vec3{ceiling, ceiling, ceiling};
    std::vector<std::uint32_t> cells;
    for (const std::uint32_t k :
         chosen(thin_.size(), run_, [&](std::size_t i) { return !apart(cell_box(thin_[i]), box); }))
      cells.push_back(thin_[k]);
    if (cells.empty())
      return;
    const TriMesh there = part_of(skin_.cells, cells, skin_.samples.size(),
                                  [&](std::uint32_t i) { return skin_.samples[i].at; });
    const TriMesh here = part_of(pocket_.triangles, facets, pocket_.vertices.size(),
                                 [&](std::uint32_t i) { return pocket_.vertices[i]; });
    const ClosestSurface tree(there);
    const WallProbe probe(tree, side_, false);
    RefinedMap map = refine(refine_start(here, spacing_, run_), probe, spacing_, run_);
    seen.took.unsplit_mm = std::max(seen.took.unsplit_mm, map.unsplit_mm);
    seen.took.max_cells = std::max<std::uint64_t>(seen.took.max_cells, map.map.cells.size());
    seen.took.steps += map.steps;
    spacing_.max_steps -= std::min(spacing_.max_steps, map.steps);
    PairSlack slack;
    slack.move_mm = ceiling;
    const auto is_new = [&](const WallSample& sample, std::uint32_t facet) {
      return std::abs(sample.wall_mm) < ceiling &&
             !known_there(skin_, skin_.cells[cells[facet]], pair_of(sample), slack);
    };
    // A sample that is known needs no thinner minimum beside it: the skin has its own.
    std::vector<unsigned char> fresh(map.map.samples.size(), 0);
    for_blocks(fresh.size(), kGrain, run_, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i)
        fresh[i] = is_new(map.map.samples[i], map.nearest[i]);
    });
    const MinimaAdded minima = add_minima(map.map, probe, ceiling, spacing_.max_steps, run_, fresh);
    seen.took.unsplit_mm = std::max(seen.took.unsplit_mm, minima.unasked_mm);
    seen.took.steps += minima.steps;
    spacing_.max_steps -= std::min(spacing_.max_steps, minima.steps);
    for (std::size_t i = 0; i < map.map.samples.size(); ++i) {
      const WallSample& sample = map.map.samples[i];
      if (i < fresh.size() && fresh[i] == 0)
        continue;
      const WallSample pair = pair_of(sample);
      const std::uint32_t facet =
          i < fresh.size() ? map.nearest[i] : tree.nearest(pair.at).triangle;
      if (i >= fresh.size() && !is_new(sample, facet))
        continue;
      seen.pairs.push_back(pair);
      seen.cells.push_back(cells[facet]);
    }
  }

  const WallMap& skin_;
  const TriMesh& pocket_;
  const SideClassifier& side_;
  RefineOptions spacing_;
  const RunContext& run_;
  Box thin_box_;                    ///< about all of them, the ceiling wider
  std::vector<std::uint32_t> thin_; ///< cells of the skin that may have a wall under the ceiling
};

} // namespace

SeenFromPocket add_seen_from_pocket(WallMap& skin, const TriMesh& pocket,
                                    const SideClassifier& side, const RefineOptions& spacing,
                                    const RunContext& run) {
  skin.first_pair = skin.samples.size();
  Look look(skin, pocket, side, spacing, run);
  skin.pair_cube_mm = std::max(spacing.ceiling_mm, look.apart_mm());
  const Seen seen = look.all();
  PairSlack slack;
  slack.move_mm = spacing.ceiling_mm;
  for (const std::uint32_t k :
       new_pairs(skin.samples, seen.pairs, spacing.ceiling_mm, slack, run)) {
    skin.minima.push_back({static_cast<std::uint32_t>(skin.samples.size()), seen.cells[k]});
    skin.samples.push_back(seen.pairs[k]);
  }
  return seen.took;
}

} // namespace leastwall
