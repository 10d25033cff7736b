#include "wall/inside/close_holes.h"

#include "mesh/disjoint_sets.h"

#include <algorithm>

namespace leastwall {

TriMesh close_holes(const TriMesh& mesh, const std::vector<OpenEdge>& edges) {
  std::vector<std::uint32_t> used; // vertices of open edges, ascending
  for (const OpenEdge& e : edges)
    used.insert(used.end(), e.begin(), e.end());
  std::sort(used.begin(), used.end());
  used.erase(std::unique(used.begin(), used.end()), used.end());
  const auto number = [&used](std::uint32_t v) {
    return static_cast<std::uint32_t>(std::lower_bound(used.begin(), used.end(), v) - used.begin());
  };
  DisjointSets runs(used.size());
  for (const OpenEdge& e : edges)
    runs.join(number(e[0]), number(e[1]));
  TriMesh cones;
  for (const std::uint32_t v : used)
    cones.vertices.push_back(mesh.vertices[v]);
  std::vector<std::uint32_t> tip(used.size(), 0); // of the run that a vertex stands for, if it does
  std::vector<double> count(used.size(), 0);
  for (std::uint32_t i = 0; i < used.size(); ++i) {
    const std::uint32_t run = runs.find(i);
    if (run == i) {
      tip[i] = static_cast<std::uint32_t>(cones.vertices.size());
      cones.vertices.emplace_back();
    }
    cones.vertices[tip[run]] += mesh.vertices[used[i]];
    count[run] += 1;
  }
  for (std::uint32_t i = 0; i < used.size(); ++i)
    if (count[i] > 0)
      cones.vertices[tip[i]] = cones.vertices[tip[i]] / count[i];
  for (const OpenEdge& e : edges)
    cones.triangles.push_back({number(e[1]), number(e[0]), tip[runs.find(number(e[0]))]});
  return cones;
}

} // namespace leastwall
