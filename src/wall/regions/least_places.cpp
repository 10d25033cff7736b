#include "wall/regions/least_places.h"

#include "mesh/disjoint_sets.h"
#include "space/box.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace leastwall {
namespace {

constexpr double kClear_mm = 0.02;   // depth of a dip that is not roughness
constexpr double kWayToLimit = 0.25; // of the way from the thinnest of what is connected
constexpr double kFar = 0.2;         // of the size of what is connected
constexpr double kFar_mm = 15;       // and at least
constexpr std::size_t kMaxDips = 9;  // of what is connected, with the thinnest

/// Calls visit(a, b) for samples under the limit that are neighbours. Of the three edges of a cell
/// the two that are reached first are enough: `before(a, b)` is the order in which they are.
template <class Under, class Before, class Visit>
void each_edge(const WallMap& map, const Under& under, const Before& before, const Visit& visit) {
  for (const Tri& cell : map.cells) {
    std::uint32_t a = cell[0], b = cell[1], c = cell[2];
    if (under(a) && under(b) && under(c)) {
      if (before(b, a))
        std::swap(a, b);
      if (before(c, b))
        std::swap(b, c);
      if (before(b, a))
        std::swap(a, b);
      visit(a, b);
      visit(b, c);
      continue;
    }
    for (const auto& [from, to] : {std::pair{a, b}, std::pair{b, c}, std::pair{c, a}})
      if (under(from) && under(to))
        before(to, from) ? visit(to, from) : visit(from, to);
  }
  // Pairs that only the other surface sees stand for others around them: they are neighbours of
  // what is under the limit in their cell, and through the thinnest of their cube of all in the
  // cubes around.
  std::map<std::array<std::int64_t, 3>, std::uint32_t> least_in;
  const auto cube_of = [&map](Vec3 p) {
    const auto part = [&map](double v) {
      return static_cast<std::int64_t>(std::floor(v / map.pair_cube_mm));
    };
    return std::array{part(p.x), part(p.y), part(p.z)};
  };
  for (const WallMap::Minimum& minimum : map.minima) {
    if (!under(minimum.sample))
      continue;
    for (const std::uint32_t corner : map.cells[minimum.cell])
      if (under(corner))
        visit(minimum.sample, corner);
    if (minimum.sample < map.first_pair)
      continue;
    std::uint32_t& least =
        least_in.try_emplace(cube_of(map.samples[minimum.sample].at), minimum.sample).first->second;
    if (before(minimum.sample, least))
      least = minimum.sample;
  }
  for (const WallMap::Minimum& minimum : map.minima)
    if (under(minimum.sample) && minimum.sample >= map.first_pair)
      visit(minimum.sample, least_in.at(cube_of(map.samples[minimum.sample].at)));
  for (const auto& [cube, least] : least_in)
    for (std::int64_t x = -1; x <= 1; ++x)
      for (std::int64_t y = -1; y <= 1; ++y)
        for (std::int64_t z = -1; z <= 1; ++z)
          if (const auto other = least_in.find({cube[0] + x, cube[1] + y, cube[2] + z});
              other != least_in.end() && other->first < cube)
            visit(least, other->second);
  if (least_in.empty())
    return;
  for (std::uint32_t i = 0; i < map.own_samples().size(); ++i)
    if (under(i))
      if (const auto pair = least_in.find(cube_of(map.samples[i].at)); pair != least_in.end())
        visit(i, pair->second);
}

/// A dip that ends where it meets a thinner one.
struct Dip {
  std::uint32_t least = 0; ///< sample, by number in the order from the thinnest on
  double depth_mm = 0;
};

} // namespace

std::vector<std::uint32_t> least_places(const WallMap& map, std::span<const double> judged,
                                        std::span<const double> shown, double limit_mm) {
  const std::size_t n = map.samples.size();
  const auto under = [&](std::uint32_t s) { return judged[s] < limit_mm; };
  const auto before = [&](std::uint32_t a, std::uint32_t b) {
    return shown[a] < shown[b] || (shown[a] == shown[b] && a < b);
  };
  std::vector<std::uint32_t> place(n, kNoPlace), order;
  for (std::uint32_t i = 0; i < n; ++i)
    if (under(i))
      order.push_back(i);
  std::sort(order.begin(), order.end(), before);
  std::vector<std::uint32_t> rank(n, kNoPlace);
  for (std::uint32_t k = 0; k < order.size(); ++k)
    rank[order[k]] = k;
  // Neighbours that come before each sample, one sample after the other.
  std::vector<std::uint32_t> first(order.size() + 1, 0);
  each_edge(map, under, before, [&](std::uint32_t a, std::uint32_t b) {
    if (a != b)
      ++first[std::max(rank[a], rank[b]) + 1];
  });
  for (std::size_t k = 1; k < first.size(); ++k)
    first[k] += first[k - 1];
  std::vector<std::uint32_t> lower(first.back()), filled(first.begin(), first.end() - 1);
  DisjointSets connected(order.size());
  each_edge(map, under, before, [&](std::uint32_t a, std::uint32_t b) {
    if (a == b)
      return;
    const std::uint32_t up = std::max(rank[a], rank[b]), down = std::min(rank[a], rank[b]);
    lower[filled[up]++] = down;
    connected.join(up, down);
  });
  const auto at = [&](std::uint32_t k) { return map.samples[order[k]].at; };

  // From the thinnest on; a set's root is its least sample, because the lower number wins.
  DisjointSets dips(order.size());
  std::vector<Dip> ended;
  for (std::uint32_t k = 0; k < order.size(); ++k)
    for (std::uint32_t e = first[k]; e < first[k + 1]; ++e) {
      const std::uint32_t p = dips.find(k), q = dips.find(lower[e]);
      if (p == q)
        continue;
      const double depth = shown[order[k]] - shown[order[std::max(p, q)]];
      if (depth >= kClear_mm)
        ended.push_back({std::max(p, q), depth});
      dips.join(p, q);
    }

  // Sizes only of what has more than one dip.
  std::map<std::uint32_t, Box> extent;
  for (const Dip& d : ended)
    extent.try_emplace(connected.find(d.least));
  if (!extent.empty())
    for (std::uint32_t k = 0; k < order.size(); ++k)
      if (const auto e = extent.find(connected.find(k)); e != extent.end())
        e->second.add(at(k));
  std::ranges::stable_sort(ended,
                           [](const Dip& a, const Dip& b) { return a.depth_mm > b.depth_mm; });
  std::vector<unsigned char> clear(order.size(), 0);
  std::map<std::uint32_t, std::vector<std::uint32_t>>
      told; // by what is connected, its thinnest first
  for (const Dip& d : ended) {
    const std::uint32_t root = connected.find(d.least);
    std::vector<std::uint32_t>& places = told.try_emplace(root, 1, root).first->second;
    const double far = std::max(kFar_mm, kFar * length(extent.at(root).size()));
    const bool deep = d.depth_mm >= kWayToLimit * (limit_mm - judged[order[root]]);
    const bool apart = std::ranges::all_of(
        places, [&](std::uint32_t p) { return distance(at(d.least), at(p)) >= far; });
    if ((deep || apart) && places.size() < kMaxDips) {
      places.push_back(d.least);
      clear[d.least] = 1;
    }
  }
  // Once more, and a clear dip does not join a thinner one.
  DisjointSets parts(order.size());
  for (std::uint32_t k = 0; k < order.size(); ++k)
    for (std::uint32_t e = first[k]; e < first[k + 1]; ++e) {
      const std::uint32_t p = parts.find(k), q = parts.find(lower[e]);
      if (p != q && clear[std::max(p, q)] == 0)
        parts.join(p, q);
    }
  for (std::uint32_t k = 0; k < order.size(); ++k)
    place[order[k]] = order[parts.find(k)];
  return place;
}

} // namespace leastwall
