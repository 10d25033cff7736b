#include "mesh/drop_facets.h"

#include "base/sum_of_blocks.h"

#include <algorithm>

namespace leastwall {
namespace {

void keep_only(TriMesh& mesh, const std::vector<bool>& drop) {
  std::size_t kept = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    if (!drop[t])
      mesh.triangles[kept++] = mesh.triangles[t];
  mesh.triangles.resize(kept);
}

} // namespace

std::size_t drop_doubled_facets(TriMesh& mesh) {
  struct Entry {
    std::uint32_t middle, high, number;
    bool operator<(const Entry& o) const {
      return middle != o.middle ? middle < o.middle
             : high != o.high   ? high < o.high
                                : number < o.number;
    }
  };
  // Counting sort by the lowest corner; within one, an ordinary sort by the other two.
  // `first` is kept one place ahead, so that it holds the starts once the entries are written.
  std::vector<std::uint32_t> first(mesh.vertices.size() + 2, 0);
  for (const Tri& tri : mesh.triangles)
    ++first[std::min({tri[0], tri[1], tri[2]}) + 2];
  for (std::size_t v = 2; v < first.size(); ++v)
    first[v] += first[v - 1];
  std::vector<Entry> entries(mesh.triangles.size());
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    Tri tri = mesh.triangles[t];
    std::sort(tri.begin(), tri.end());
    entries[first[tri[0] + 1]++] = {tri[1], tri[2], t};
  }
  std::vector<bool> drop(mesh.triangles.size(), false);
  std::size_t dropped = 0;
  for (std::size_t v = 0; v + 2 < first.size(); ++v) {
    const auto begin = entries.begin() + first[v], end = entries.begin() + first[v + 1];
    std::sort(begin, end);
    for (auto i = begin; i != end; ++i) {
      if (i != begin && i->middle == (i - 1)->middle && i->high == (i - 1)->high) {
        drop[i->number] = true;
        ++dropped;
      }
    }
  }
  if (dropped > 0)
    keep_only(mesh, drop);
  return dropped;
}

std::size_t drop_flat_facets(TriMesh& mesh) {
  const auto flat = [&mesh](std::size_t t) {
    constexpr double kMinHeight = 1e-9; // of the longest side
    const Tri& tri = mesh.triangles[t];
    const Vec3 a = mesh.vertices[tri[0]], b = mesh.vertices[tri[1]], c = mesh.vertices[tri[2]];
    const double side =
        std::max({length_squared(b - a), length_squared(c - b), length_squared(a - c)});
    return length(cross(b - a, c - a)) <= kMinHeight * side;
  };
  const auto dropped = sum_of_blocks(
      mesh.triangles.size(), 1 << 14, {}, std::size_t{0},
      [&flat](std::size_t begin, std::size_t end) {
        std::size_t count = 0;
        for (std::size_t t = begin; t < end; ++t)
          count += flat(t) ? 1 : 0;
        return count;
      },
      [](std::size_t& sum, std::size_t part) { sum += part; });
  if (dropped > 0) {
    std::vector<bool> drop(mesh.triangles.size());
    for (std::size_t t = 0; t < drop.size(); ++t)
      drop[t] = flat(t);
    keep_only(mesh, drop);
  }
  return dropped;
}

void drop_unused_vertices(TriMesh& mesh) {
  std::vector<std::uint32_t> now(mesh.vertices.size(), 0);
  for (const Tri& tri : mesh.triangles)
    for (const std::uint32_t corner : tri)
      now[corner] = 1;
  std::uint32_t kept = 0;
  for (std::size_t v = 0; v < mesh.vertices.size(); ++v) {
    if (now[v] == 0)
      continue;
    mesh.vertices[kept] = mesh.vertices[v];
    now[v] = kept++;
  }
  mesh.vertices.resize(kept);
  for (Tri& tri : mesh.triangles)
    for (std::uint32_t& corner : tri)
      corner = now[corner];
}

} // namespace leastwall
