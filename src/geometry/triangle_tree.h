// A tree of boxes over triangles that names those which may lie within a radius of a point.
//
// It works in single precision and is searched a little further than that can hide, so it may name
// a triangle too many and never one too few; distances are for the caller to decide, in double.
// Four children a node, four triangles a leaf, all four looked at together. The two lowest levels
// of boxes are turned to lie along the surface, and a triangle is named by its own plane and the
// three planes through its edges: a patch seen from the side it faces is told apart from its
// neighbours, where upright boxes over slanted facets would all reach as near.
#pragma once

#include "geometry/mesh.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

namespace leastwall {

class TriangleTree {
 public:
  /// Copies what it needs from `mesh`, which must have a triangle. Throws std::bad_alloc.
  explicit TriangleTree(const TriMesh& mesh);

  /// Calls visit(triangle) for every triangle that may be within `radius` mm of `p`, nearest boxes
  /// first; where it returns a radius, the search goes on within the smaller of the two.
  template <class Visit> void search(Vec3 p, double radius, Visit& visit) const;

  /// Memory for `triangles`, bytes, while searched.
  static double bytes(double triangles) { return 116 * triangles; }

 private:
  using F4 = float __attribute__((vector_size(16)));
  using I4 = int __attribute__((vector_size(16)));

  static F4 larger(F4 a, F4 b) { return a > b ? a : b; }
  static F4 all(float v) { return F4{v, v, v, v}; }

  static constexpr double kFar = 1e18; ///< mm: nothing lies as far, an absent child lies farther

  struct Node {               // boxes of four children, along three axes of the node's own
    std::array<F4, 3> turn{}; ///< column k: what x, y or z adds to each of the axes
    std::array<F4, 3> low{all(1e30f), all(1e30f), all(1e30f)};
    std::array<F4, 3> high{all(-1e30f), all(-1e30f), all(-1e30f)};
  };
  /// Unit vectors and offsets: nx x + ny y + nz z - o. Plane 0 is the triangle's own, 1 to 3 stand
  /// on its edges and look outwards. All zero where the triangle has no area: it is always named.
  struct Leaf {
    std::array<std::array<F4, 4>, 4> planes;
    std::array<std::uint32_t, 4> triangle;
  };
  struct Level {
    std::size_t first, count; ///< nodes_[first + i]; the children of i are 4 i .. 4 i + 3 below
  };

  struct Axes;
  class Builder;

  Vec3 origin_;
  double slack_ = 0; ///< mm: more than single precision hides anywhere in the box
  std::vector<Leaf> leaves_;
  std::vector<Node> nodes_;
  std::vector<Level> levels_; ///< from just above the leaves to the root
};

template <class Visit> void TriangleTree::search(Vec3 p, double radius, Visit& visit) const {
  const Vec3 q = p - origin_;
  // Far queries lose absolute precision: widen by their own rounding. Turning a point in single
  // precision moves it by at most 5 x 2^-24 of its size on each axis, and the axes are of unit
  // length and square to each other to 2^-23.
  const double slack = slack_ + 2e-6 * std::max({std::abs(q.x), std::abs(q.y), std::abs(q.z)});
  const auto squared = [slack](double r) {
    const double reach = r * (1 + 1e-6) + slack;
    return reach < kFar ? static_cast<float>(reach * reach * (1 + 1e-6))
                        : static_cast<float>(kFar * kFar);
  };
  float reach2 = squared(radius);
  const std::array<F4, 3> at{all(static_cast<float>(q.x)), all(static_cast<float>(q.y)),
                             all(static_cast<float>(q.z))};

  struct Entry {
    float d2;
    std::uint32_t level, index;
  };
  std::array<Entry, 64> stack; // three left over from each of at most 16 levels, and the root
  std::size_t top = 0;
  stack[top++] = {0, static_cast<std::uint32_t>(levels_.size()), 0};
  while (top > 0) {
    const Entry entry = stack[--top];
    if (entry.d2 > reach2)
      continue;
    if (entry.level == 0) {
      const Leaf& leaf = leaves_[entry.index];
      std::array<F4, 4> off;
      for (std::size_t k = 0; k < 4; ++k) {
        const std::array<F4, 4>& plane = leaf.planes[k];
        off[k] = plane[0] * at[0] + plane[1] * at[1] + plane[2] * at[2] - plane[3];
      }
      const F4 out = larger(larger(off[1], off[2]), larger(off[3], all(0)));
      const F4 d2 = off[0] * off[0] + out * out;
      for (std::size_t k = 0; k < 4; ++k)
        if (!(d2[k] > reach2)) {
          const std::optional<double> nearer = visit(leaf.triangle[k]);
          if (nearer)
            reach2 = std::min(reach2, squared(*nearer));
        }
      continue;
    }
    const Node& node = nodes_[levels_[entry.level - 1].first + entry.index];
    F4 d2 = all(0);
    const F4 turned = node.turn[0] * at[0] + node.turn[1] * at[1] + node.turn[2] * at[2];
    for (std::size_t k = 0; k < 3; ++k) {
      const F4 here = all(turned[k]);
      const F4 out = larger(larger(node.low[k] - here, here - node.high[k]), all(0));
      d2 += out * out;
    }
    // Pushed so that the nearest is taken first.
    const std::size_t base = top;
    for (std::uint32_t k = 0; k < 4; ++k) {
      const float near = d2[k];
      if (near > reach2)
        continue;
      std::size_t i = top++;
      for (; i > base && stack[i - 1].d2 < near; --i)
        stack[i] = stack[i - 1];
      stack[i] = {near, entry.level - 1, 4 * entry.index + k};
    }
  }
}

} // namespace leastwall
