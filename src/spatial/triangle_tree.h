// A tree of boxes over triangles that names those which may lie within a radius of a point.
//
// It works in single precision and is searched a little further than that can hide, so it may name
// a triangle too many and never one too few; distances are for the caller to decide, in double.
// Four children a node, four triangles a leaf, all four looked at together. The three lowest
// levels of boxes are turned to lie along the surface, and a triangle is named by its own plane and
// the three planes through its edges: a patch seen from the side it faces is told apart from its
// neighbours, where upright boxes over slanted facets would all reach as near.
#pragma once

#include "base/uninitialized_vector.h"
#include "mesh/mesh.h"
#include "space/slab.h"

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace leastwall {

class TriangleTree {
 public:
  /// Copies what it needs from `mesh`, which must have a triangle. Its corners, and points asked
  /// for later, must lie within 1e15 mm of zero. Throws std::bad_alloc.
  explicit TriangleTree(const TriMesh& mesh);

  /// Calls visit(triangle) for every triangle that may be within `radius` mm of `p`, nearest boxes
  /// first; where it returns a radius, the search goes on within the smaller of the two. May name
  /// may_repeat() more than once. Include triangle_tree_search.h to call it.
  template <class Visit> void search(Vec3 p, double radius, Visit& visit) const;

  /// Calls visit(triangle) for every triangle that may be within `radius` mm of `p` and may not lie
  /// in the slab with all its corners, until it returns false or `most_steps` were taken. True when
  /// it got through. Include triangle_tree_search.h.
  template <class Visit>
  bool search_outside(Vec3 p, double radius, const Slab& slab, std::uint64_t most_steps,
                      Visit& visit) const;

  /// The one triangle that a search may name more than once.
  std::uint32_t may_repeat() const { return leaves_.back().triangle.back(); }

 private:
  using F4 = float __attribute__((vector_size(16)));

  /// In single precision, with what is next to nothing as nothing: products of such numbers would
  /// not be normal ones, and take a hundred times as long. Far under what slack_at() allows for.
  static float length_in_single(double mm) {
    return std::abs(mm) < 1e-12 ? 0.0F : static_cast<float>(mm);
  }
  static float direction_in_single(double v) {
    return std::abs(v) < 1e-9 ? 0.0F : static_cast<float>(v);
  }
  static F4 larger(F4 a, F4 b) { return a > b ? a : b; }
  static F4 all(float v) { return F4{v, v, v, v}; }
  /// Bit k is set where v[k] is not greater than `most`.
  static unsigned not_over(F4 v, float most) {
    const auto over = v > all(most);
#if defined(__SSE__)
    return 15u & ~static_cast<unsigned>(__builtin_ia32_movmskps(reinterpret_cast<F4>(over)));
#else
    unsigned bits = 0;
    for (unsigned k = 0; k < 4; ++k)
      bits |= over[k] ? 0u : 1u << k;
    return bits;
#endif
  }

  static constexpr std::uint64_t kStepsOfVisit = 3; ///< of search_outside, each in double
  static constexpr double kFar = 1e18; ///< mm: nothing lies as far, an absent child lies farther

  struct Node {             // boxes of four children, along three axes of the node's own
    std::array<F4, 3> turn; ///< column k: what x, y or z adds to each of the axes
    std::array<F4, 3> low, high;
  };
  /// Unit vectors and offsets: nx x + ny y + nz z - o. Plane 0 is the triangle's own, 1 to 3 stand
  /// on its edges and look outwards. All zero where the triangle has no area, or so little that
  /// rounding turned its planes: it is always named.
  struct Leaf {
    std::array<std::array<F4, 4>, 4> planes;
    std::array<std::uint32_t, 4> triangle;
  };
  struct Entry { ///< of a search: a node or leaf to look at
    float d2;
    std::uint32_t level, index;
  };
  struct Level {
    std::size_t first, count; ///< nodes_[first + i]; the children of i are 4 i .. 4 i + 3 below
  };

  struct Lie;
  struct Axes;
  class Builder;

  /// More than single precision hides of where `q` (from origin_) lies to a box or plane, mm.
  double slack_at(Vec3 q) const;
  /// Squared distances from `at` to the triangles of a leaf, or less.
  static F4 leaf_d2(const Leaf& leaf, const std::array<F4, 3>& at);
  /// A search's radius, squared and widened by `slack`.
  static float reach2_of(double radius, double slack);

  Vec3 origin_;
  double slack_ = 0; ///< mm: more than single precision hides anywhere in the box
  UninitializedVector<Leaf> leaves_;
  UninitializedVector<Node> nodes_;
  std::vector<Level> levels_; ///< from just above the leaves to the root
};

} // namespace leastwall
