// Nearest point on a triangle surface, and triangles within reach of a point.
//
// A tree (triangle_tree.h, single precision) proposes triangles; distances and points are computed
// in double from the triangles themselves, and the tree is always searched a little further than
// its rounding could hide. So answers are exact and do not depend on the tree's layout: equal
// distances are decided by the lower triangle number.
#pragma once

#include "mesh/mesh.h"
#include "space/slab.h"
#include "spatial/triangle_distance.h"

#include <functional>
#include <limits>
#include <memory>
#include <optional>

namespace leastwall {

struct SurfaceHit {
  Vec3 point;                 ///< nearest point, model space, mm
  double distance = 0;        ///< mm, >= 0
  std::uint32_t triangle = 0; ///< index into the mesh
};

class ClosestSurface {
 public:
  /// Keeps a reference to `mesh`, which must outlive this. Throws InputError when it is empty.
  explicit ClosestSurface(const TriMesh& mesh);
  ~ClosestSurface();
  ClosestSurface(const ClosestSurface&) = delete;
  ClosestSurface& operator=(const ClosestSurface&) = delete;

  /// Nearest point to `p`; `hint` is a triangle believed to be near (any index is correct, a good
  /// one is faster). Safe from many threads.
  SurfaceHit nearest(Vec3 p, std::optional<std::uint32_t> hint = std::nullopt) const;

  /// Least distance between triangle `t` and the surface, when under `below_mm`. `on_first` is on
  /// `t`.
  std::optional<NearestPair> nearest_to_triangle(const TriangleCorners& t, double below_mm) const;

  /// Is every facet that comes within `reach_mm` of triangle `t` either in the slab with all its
  /// corners or `harmless`? May say no because of a facet a little further away, or because more
  /// facets are near than are looked at.
  bool all_in_slab(const TriangleCorners& t, double reach_mm, const Slab& slab,
                   const std::function<bool(const TriangleCorners&)>& harmless) const;

  TriangleCorners corners(std::uint32_t triangle) const;
  const TriMesh& mesh() const;

 private:
  struct Tree;
  std::unique_ptr<Tree> tree_;
};

} // namespace leastwall
