#include "pour/volume_below.h"

#include "base/sum_of_blocks.h"
#include "mesh/disjoint_sets.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <unordered_map>

namespace leastwall {
namespace {

constexpr std::size_t kBlock = 1 << 14;

/// Area of a facet seen from above, below zero where it looks up.
double area_from_below(Vec3 a, Vec3 b, Vec3 c) {
  return -0.5 * ((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
}

/// Mean over a facet of its depth where that is over 0, else 0; `d`: depths of its corners.
double mean_depth(std::array<double, 3> d) {
  std::sort(d.begin(), d.end());
  const auto [low, middle, high] = d;
  if (low >= 0)
    return (low + middle + high) / 3;
  if (high <= 0)
    return 0;
  if (middle <= 0) // one corner is below the level: a smaller facet, its depth falls to 0
    return high / (high - middle) * (high / (high - low)) * high / 3;
  // One corner is above: the whole less its negative part.
  return (low + middle + high) / 3 - low / (low - middle) * (low / (low - high)) * low / 3;
}

} // namespace

double volume_below(const TriMesh& facets, const SlopingLevel& level, const RunContext& run) {
  return sum_of_blocks(
      facets.triangles.size(), kBlock, run, 0.0,
      [&](std::size_t begin, std::size_t end) {
        double sum = 0;
        for (std::size_t t = begin; t < end; ++t) {
          const Tri& tri = facets.triangles[t];
          const Vec3 a = facets.vertices[tri[0]], b = facets.vertices[tri[1]],
                     c = facets.vertices[tri[2]];
          sum += area_from_below(a, b, c) *
                 mean_depth({level.at(a) - a.z, level.at(b) - b.z, level.at(c) - c.z});
        }
        return sum;
      },
      [](double& sum, double part) { sum += part; });
}

double volume_below(const TriMesh& facets, double level_mm, const RunContext& run) {
  return volume_below(facets, SlopingLevel{level_mm, 0, 1, 0}, run);
}

std::size_t pools_below(const TriMesh& facets, double level_mm) {
  DisjointSets sets(facets.vertices.size());
  std::vector<char> wet(facets.vertices.size(), 0);
  // Corners under the level hang together over edges; where two meet over a facet's edge, the edge
  // between them is under it as well.
  for (const Tri& t : facets.triangles)
    for (std::size_t i = 0; i < 3; ++i) {
      const std::uint32_t a = t[i], b = t[(i + 1) % 3];
      wet[a] = facets.vertices[a].z < level_mm;
      if (facets.vertices[a].z < level_mm && facets.vertices[b].z < level_mm)
        sets.join(a, b);
    }
  std::size_t pools = 0;
  for (std::size_t v = 0; v < wet.size(); ++v)
    pools += wet[v] && sets.find(static_cast<std::uint32_t>(v)) == v;
  return pools;
}

std::vector<TriMesh> connected_parts(const TriMesh& facets) {
  DisjointSets sets(facets.vertices.size());
  for (const Tri& t : facets.triangles) {
    sets.join(t[0], t[1]);
    sets.join(t[0], t[2]);
  }
  std::vector<TriMesh> out;
  std::unordered_map<std::uint32_t, std::size_t> part_of_root;
  std::vector<std::uint32_t> number(facets.vertices.size(), 0xffffffffU);
  for (const Tri& t : facets.triangles) {
    const auto root = static_cast<std::uint32_t>(sets.find(t[0]));
    const auto [found, fresh] = part_of_root.try_emplace(root, out.size());
    if (fresh)
      out.emplace_back();
    TriMesh& part = out[found->second];
    Tri own{};
    for (std::size_t i = 0; i < 3; ++i) {
      if (number[t[i]] == 0xffffffffU) {
        number[t[i]] = static_cast<std::uint32_t>(part.vertices.size());
        part.vertices.push_back(facets.vertices[t[i]]);
      }
      own[i] = number[t[i]];
    }
    part.triangles.push_back(own);
  }
  return out;
}

} // namespace leastwall
