#include "wall/sampling/order_in_space.h"

#include "base/parallel.h"
#include "base/uninitialized_vector.h"

#include <algorithm>
#include <compare>

namespace leastwall {
namespace {

/// Position along a space-filling order, so that neighbours in a block are neighbours in space.
std::uint64_t morton(Vec3 p, const Box& box) {
  const Vec3 size = box.size();
  const auto spread = [](double v) {
    auto x = static_cast<std::uint64_t>(std::clamp(v, 0.0, 1.0) * 2097151.0);
    x = (x | x << 32) & 0x1f00000000ffffULL;
    x = (x | x << 16) & 0x1f0000ff0000ffULL;
    x = (x | x << 8) & 0x100f00f00f00f00fULL;
    x = (x | x << 4) & 0x10c30c30c30c30c3ULL;
    x = (x | x << 2) & 0x1249249249249249ULL;
    return x;
  };
  return spread((p.x - box.low.x) / std::max(size.x, 1e-9)) |
         spread((p.y - box.low.y) / std::max(size.y, 1e-9)) << 1 |
         spread((p.z - box.low.z) / std::max(size.z, 1e-9)) << 2;
}

} // namespace

std::vector<std::uint32_t> order_in_space(const TriMesh& mesh, const RunContext& run) {
  const Box box = mesh.box();
  struct Key {
    std::uint64_t place;
    std::uint32_t vertex;
    auto operator<=>(const Key&) const = default;
  };
  UninitializedVector<Key> keys(mesh.vertices.size());
  for_blocks(keys.size(), 1 << 16, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i)
      keys[i] = {morton(mesh.vertices[i], box), static_cast<std::uint32_t>(i)};
  });
  sort_in_parallel(keys.begin(), keys.end());
  std::vector<std::uint32_t> order(keys.size());
  for (std::size_t k = 0; k < keys.size(); ++k)
    order[k] = keys[k].vertex;
  return order;
}

} // namespace leastwall
