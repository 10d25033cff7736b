#include "mesh/mesh_edges.h"

#include "base/parallel.h"

namespace leastwall {

MeshEdges::MeshEdges(const TriMesh& mesh) {
  first_.assign(mesh.vertices.size() + 2, 0);
  // Counting sort by lower vertex. first_ is kept one place ahead, so that after the entries are
  // written it holds the starts.
  for (const Tri& t : mesh.triangles)
    for (std::size_t k = 0; k < 3; ++k)
      ++first_[std::size_t{std::min(t[k], t[k == 2 ? 0 : k + 1])} + 2];
  for (std::size_t v = 2; v < first_.size(); ++v)
    first_[v] += first_[v - 1];
  entries_.resize(mesh.triangles.size() * 3);
  std::uint32_t half = 0;
  for (const Tri& t : mesh.triangles)
    for (std::size_t k = 0; k < 3; ++k) {
      const auto [low, high] = std::minmax({t[k], t[k == 2 ? 0 : k + 1]});
      entries_[first_[std::size_t{low} + 1]++] = {high, half++};
    }
  first_.pop_back();
  for_blocks(first_.size() - 1, 1 << 14, {}, [&](std::size_t begin, std::size_t end) {
    for (std::size_t v = begin; v < end; ++v)
      std::sort(entries_.data() + first_[v], entries_.data() + first_[v + 1]); // a few each
  });
}

} // namespace leastwall
