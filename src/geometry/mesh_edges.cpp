#include "geometry/mesh_edges.h"

namespace leastwall {

MeshEdges::MeshEdges(const TriMesh& mesh) {
  const auto halves = static_cast<std::uint32_t>(mesh.triangles.size() * 3);
  first_.assign(mesh.vertices.size() + 2, 0);
  // Counting sort by lower vertex. first_ is kept one place ahead, so that after the entries are
  // written it holds the starts.
  for (std::uint32_t h = 0; h < halves; ++h) {
    const HalfEdgeEnds e = ends_of(mesh, h);
    ++first_[std::min(e.from, e.to) + 2];
  }
  for (std::size_t v = 2; v < first_.size(); ++v)
    first_[v] += first_[v - 1];
  entries_.resize(halves);
  for (std::uint32_t h = 0; h < halves; ++h) {
    const HalfEdgeEnds e = ends_of(mesh, h);
    entries_[first_[std::min(e.from, e.to) + 1]++] = {std::max(e.from, e.to), h};
  }
  first_.pop_back();
  for (std::size_t v = 0; v + 1 < first_.size(); ++v) {
    Entry* begin = entries_.data() + first_[v];
    Entry* end = entries_.data() + first_[v + 1];
    if (end - begin > 1)
      std::sort(begin, end); // short runs: insertion sort inside
  }
}

} // namespace leastwall
