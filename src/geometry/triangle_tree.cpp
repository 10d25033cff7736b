#include "geometry/triangle_tree.h"

#include "base/parallel.h"

#include <tbb/parallel_invoke.h>

namespace leastwall {
namespace {

constexpr std::size_t kLeaf = 4; ///< triangles a leaf, and children a node
constexpr std::size_t kAlone = 1 << 14;

struct Item {
  std::array<float, 3> middle;
  std::uint32_t triangle;
};

/// Orders items so that each aligned run of kLeaf^k of them is compact, for every k. `whole` is the
/// least such power that holds all items.
void arrange(Item* items, std::size_t count, std::size_t whole) {
  if (count <= kLeaf)
    return;
  const std::size_t quarter = whole / kLeaf;
  // The largest child boundary that leaves something on both sides, about the middle.
  const std::size_t quarters = (count + quarter - 1) / quarter;
  if (quarters > 1) {
    std::array<float, 3> low = items[0].middle, high = low;
    for (std::size_t i = 1; i < count; ++i)
      for (std::size_t k = 0; k < 3; ++k) {
        low[k] = std::min(low[k], items[i].middle[k]);
        high[k] = std::max(high[k], items[i].middle[k]);
      }
    std::size_t axis = 0;
    for (std::size_t k = 1; k < 3; ++k)
      if (high[k] - low[k] > high[axis] - low[axis])
        axis = k;
    const std::size_t split = (quarters + 1) / 2 * quarter;
    std::nth_element(items, items + split, items + count, [axis](const Item& a, const Item& b) {
      return a.middle[axis] != b.middle[axis] ? a.middle[axis] < b.middle[axis]
                                              : a.triangle < b.triangle;
    });
    // Two quarters are still `whole` as far as their own boundary goes.
    const auto part = [&](std::size_t from, std::size_t to) {
      arrange(items + from, to - from, to - from > quarter ? whole : quarter);
    };
    if (count < kAlone) {
      part(0, split);
      part(split, count);
    } else {
      tbb::parallel_invoke([&] { part(0, split); }, [&] { part(split, count); });
    }
    return;
  }
  arrange(items, count, quarter);
}

} // namespace

void TriangleTree::order(const TriMesh& mesh, std::vector<std::uint32_t>& triangles) const {
  std::vector<Item> items(mesh.triangles.size());
  for_blocks(items.size(), 1 << 14, {}, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      Box box;
      for (const std::uint32_t v : mesh.triangles[i])
        box.add(mesh.vertices[v] - origin_);
      const Vec3 m = box.middle();
      items[i] = {{static_cast<float>(m.x), static_cast<float>(m.y), static_cast<float>(m.z)},
                  static_cast<std::uint32_t>(i)};
    }
  });
  std::size_t whole = kLeaf;
  while (whole < items.size())
    whole *= kLeaf;
  arrange(items.data(), items.size(), whole);
  triangles.resize(items.size());
  for (std::size_t i = 0; i < items.size(); ++i)
    triangles[i] = items[i].triangle;
}

Box TriangleTree::fill(const TriMesh& mesh, const std::vector<std::uint32_t>& order,
                       std::size_t leaf) {
  Box box;
  Leaf& out = leaves_[leaf];
  for (std::size_t k = 0; k < kLeaf; ++k) {
    const std::size_t i = std::min(leaf * kLeaf + k, order.size() - 1); // the last one repeats
    out.triangle[k] = order[i];
    std::array<Vec3, 3> c;
    for (std::size_t v = 0; v < 3; ++v) {
      c[v] = mesh.vertices[mesh.triangles[order[i]][v]] - origin_;
      box.add(c[v]);
    }
    const Vec3 normal = unit(cross(c[1] - c[0], c[2] - c[0]));
    const auto set = [&](std::size_t plane, Vec3 n, Vec3 on) {
      out.planes[plane][0][k] = static_cast<float>(n.x);
      out.planes[plane][1][k] = static_cast<float>(n.y);
      out.planes[plane][2][k] = static_cast<float>(n.z);
      out.planes[plane][3][k] = static_cast<float>(dot(n, on));
    };
    set(0, normal, c[0]);
    for (std::size_t v = 0; v < 3; ++v)
      set(v + 1, unit(cross(c[(v + 1) % 3] - c[v], normal)), c[v]);
  }
  return box;
}

TriangleTree::TriangleTree(const TriMesh& mesh) {
  Box box;
  for (const Tri& t : mesh.triangles)
    for (const std::uint32_t v : t)
      box.add(mesh.vertices[v]);
  origin_ = box.middle();
  slack_ = 1e-6 * std::max({box.size().x, box.size().y, box.size().z, 1e-3});
  std::vector<std::uint32_t> triangles;
  order(mesh, triangles);
  const std::size_t leaves = (triangles.size() + kLeaf - 1) / kLeaf;
  leaves_.resize(leaves);
  std::size_t nodes = 0;
  for (std::size_t n = leaves; n > 1;) {
    n = (n + kLeaf - 1) / kLeaf;
    levels_.push_back({nodes, n});
    nodes += n;
  }
  nodes_.resize(nodes);
  const auto set = [](Node& node, std::size_t child, const Box& b) {
    const std::array<double, 3> low{b.low.x, b.low.y, b.low.z}, high{b.high.x, b.high.y, b.high.z};
    for (std::size_t k = 0; k < 3; ++k) {
      node.low[k][child] = static_cast<float>(low[k]);
      node.high[k][child] = static_cast<float>(high[k]);
    }
  };
  // Above the leaves: each node fills its own leaves.
  for_blocks(levels_.empty() ? leaves : levels_[0].count, 256, {},
             [&](std::size_t begin, std::size_t end) {
               for (std::size_t i = begin; i < end; ++i) {
                 if (levels_.empty()) {
                   fill(mesh, triangles, i);
                   continue;
                 }
                 for (std::size_t child = 0; child < kLeaf && kLeaf * i + child < leaves; ++child)
                   set(nodes_[i], child, fill(mesh, triangles, kLeaf * i + child));
               }
             });
  for (std::size_t level = 1; level < levels_.size(); ++level)
    for (std::size_t i = 0; i < levels_[level].count; ++i)
      for (std::size_t child = 0; child < kLeaf && kLeaf * i + child < levels_[level - 1].count;
           ++child) {
        const std::size_t index = kLeaf * i + child;
        const std::size_t below = level == 1 ? leaves : levels_[level - 2].count;
        const Node& from = nodes_[levels_[level - 1].first + index];
        Box b;
        for (std::size_t k = 0; k < kLeaf && kLeaf * index + k < below; ++k) {
          b.add(Vec3{from.low[0][k], from.low[1][k], from.low[2][k]});
          b.add(Vec3{from.high[0][k], from.high[1][k], from.high[2][k]});
        }
        set(nodes_[levels_[level].first + i], child, b);
      }
}

} // namespace leastwall
