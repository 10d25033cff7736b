// How far a ball may be let down onto a surface: to the first facet that its middle comes too near.
#pragma once

#include "mesh/mesh.h"
#include "space/vec3.h"
#include "spatial/triangle_distance.h"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace leastwall {

/// For each facet t the places within `reach_mm[t]` of it are closed to the ball's middle: a ball
/// swept over the triangle, bounded by two planes, three cylinders and three balls, each met by an
/// upright line in closed form. Facets are looked up in a tree of upright boxes.
class BallDrop {
 public:
  /// Copies `mesh`, which must have a triangle; one reach a triangle, mm, > 0.
  BallDrop(const TriMesh& mesh, std::vector<double> reach_mm);

  /// z of the lowest place straight below `from` down to which no place is closed, within 1e-6 mm
  /// and no lower; no lower than `floor_z`. `from.z` where `from` itself is closed. Safe from many
  /// threads.
  double lowest(Vec3 from, double floor_z) const;

 private:
  struct Node {
    double low_x, high_x, low_y, high_y, low_z, high_z; ///< around its facets
    double reach;                                       ///< the largest of them
    std::uint32_t first, count; ///< leaf: of order_; else count 0 and children first, first + 1
  };

  void split(std::uint32_t node, std::size_t begin, std::size_t end,
             const std::vector<Vec3>& middles);
  /// No middle is stopped higher than that by what the node holds; -infinity: it holds nothing that
  /// could stop one below `from`.
  static double highest_of(const Node& node, Vec3 from);

  std::vector<TriangleCorners> corners_;
  std::vector<double> reach_;
  std::vector<std::uint32_t> order_;
  std::vector<Node> nodes_;
};

} // namespace leastwall
