// Which facets meet at which edge.
#pragma once

#include "base/uninitialized_vector.h"
#include "mesh/mesh.h"

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

namespace leastwall {

/// Half-edge 3 t + k runs from corner k of triangle t to the next corner.
struct HalfEdgeEnds {
  std::uint32_t from, to;
};
inline HalfEdgeEnds ends_of(const TriMesh& mesh, std::uint32_t half) {
  const Tri& tri = mesh.triangles[half / 3];
  const std::uint32_t k = half % 3;
  return {tri[k], tri[k == 2 ? 0 : k + 1]};
}

/// All half-edges, grouped by their lower vertex, then ordered by higher vertex and number. Built
/// in linear time by a counting sort; 8 bytes a half-edge. At most 2^32 / 3 triangles.
class MeshEdges {
 public:
  explicit MeshEdges(const TriMesh& mesh);

  /// Calls body(low, high, halves) for every edge; `halves` are the numbers of the half-edges on
  /// it, rising. Order: by low vertex, then high.
  template <class Body> void for_each(const Body& body) const {
    std::vector<std::uint32_t> halves;
    for (std::uint32_t low = 0; low + 1 < first_.size(); ++low) {
      for (std::uint32_t i = first_[low]; i < first_[low + 1];) {
        const std::uint32_t high = entries_[i].high;
        halves.clear();
        for (; i < first_[low + 1] && entries_[i].high == high; ++i)
          halves.push_back(entries_[i].half);
        body(low, high, std::span<const std::uint32_t>(halves));
      }
    }
  }

 private:
  struct Entry {
    std::uint32_t high, half;
    bool operator<(const Entry& o) const { return high != o.high ? high < o.high : half < o.half; }
  };
  std::vector<std::uint32_t> first_; // per vertex: where its entries start
  UninitializedVector<Entry> entries_;
};

} // namespace leastwall
