// Facets over a point of the plan, found by a tree of boxes: for meshes whose facets differ so much
// in size, or are so long and slanting, that a grid of equal cells does not tell them apart.
#pragma once

#include "base/work_count.h"
#include "mesh/mesh.h"

#include <array>
#include <cstdint>
#include <vector>

namespace leastwall {

class VerticalRayTree {
 public:
  /// n log n. Some 300 bytes a facet at the most.
  explicit VerticalRayTree(const TriMesh& mesh);

  /// take(facet) for every facet that the vertical line at x, y may pass through, each once.
  template <class Take> void visit(double x, double y, const Take& take) const;

 private:
  /// low <= x < high, and the same in y.
  struct Plan {
    double low_x, high_x, low_y, high_y;
    bool holds(double x, double y) const {
      return x >= low_x && x < high_x && y >= low_y && y < high_y;
    }
    void add(const Plan& other);
  };
  /// What a facet covers between two parallel lines; the pieces of a facet do not overlap.
  struct Piece {
    Plan plan;
    std::uint32_t facet;
  };
  struct Node {
    Plan plan;
    std::uint32_t begin, end; ///< pieces of a leaf; of others end is 0 and begin the second child
  };
  static constexpr std::size_t kLeaf = 8;

  void cut(const TriMesh& mesh, std::uint32_t facet, std::size_t parts);
  void build(std::size_t begin, std::size_t end);

  std::vector<Piece> pieces_;
  std::vector<Node> nodes_; ///< the first child stands behind its parent
};

template <class Take> void VerticalRayTree::visit(double x, double y, const Take& take) const {
  std::array<std::uint32_t, 64> stack;
  std::size_t top = 0;
  std::uint64_t steps = 0;
  if (!nodes_.empty())
    stack[top++] = 0;
  while (top > 0) {
    const std::uint32_t at = stack[--top];
    const Node& node = nodes_[at];
    ++steps;
    if (!node.plan.holds(x, y))
      continue;
    if (node.end == 0) {
      stack[top++] = node.begin;
      stack[top++] = at + 1;
      continue;
    }
    for (std::uint32_t i = node.begin; i < node.end; ++i)
      if (pieces_[i].plan.holds(x, y)) {
        ++steps;
        take(pieces_[i].facet);
      }
  }
  count_steps(steps);
}

} // namespace leastwall
