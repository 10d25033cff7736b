// Distances by general-purpose libraries that share no code with the project.
//
// Mesh against mesh: FCL (Flexible Collision Library) 0.7, tree of oriented boxes and swept
// spheres. Point against mesh, inside or outside: CGAL 5.5, AABB tree and Side_of_triangle_mesh.
// Both in double precision. Linked into the tests alone.
#pragma once

#include "mesh/mesh.h"
#include "space/footprint.h"

#include <cstddef>
#include <memory>
#include <span>

namespace leastwall::peers {

/// Least distance between two surfaces, mm; 0 or less where they touch or cross. FCL.
double mesh_distance(const TriMesh& a, const TriMesh& b);

/// Least distance between two simple polygons, mm; 0 where they overlap. CGAL.
double polygon_gap(std::span<const Point2> a, std::span<const Point2> b);

/// Pairs of facets of one surface that cross or lie on one another, neighbours included. CGAL,
/// exact predicates.
std::size_t self_crossings(const TriMesh& mesh);

/// Volume of a closed body below the plane z = `level` + slope * x, mm3: cut by the plane, the cut
/// closed, CGAL's clip() and volume() of Polygon_mesh_processing.
double volume_below_plane(const TriMesh& body, double level, double slope = 0);

/// Volume that two closed bodies have in common, mm3: CGAL's corefinement.
double shared_volume(const TriMesh& a, const TriMesh& b);

/// One surface, asked for its distance to points. CGAL.
class PointDistance {
 public:
  /// Facets without area are left out.
  explicit PointDistance(const TriMesh& mesh);
  ~PointDistance();
  PointDistance(const PointDistance&) = delete;
  PointDistance& operator=(const PointDistance&) = delete;

  /// Distance of `p` to the surface, mm, >= 0.
  double operator()(Vec3 p) const;
  /// Is `p` inside the closed body? Only for watertight meshes.
  bool inside(Vec3 p) const;

 private:
  struct Body;
  std::unique_ptr<Body> body_;
};

} // namespace leastwall::peers
