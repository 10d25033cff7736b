#include "peers/reference_library.h"

#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_2.h>
#include <CGAL/Polygon_mesh_processing/clip.h>
#include <CGAL/Polygon_mesh_processing/corefinement.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Side_of_triangle_mesh.h>
#include <CGAL/Surface_mesh.h>
#include <cmath>
#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/narrowphase/distance.h>
#include <iterator>
#include <optional>
#include <stdexcept>
#include <utility>
#include <vector>

namespace leastwall::peers {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;
using Primitive = CGAL::AABB_face_graph_triangle_primitive<Surface>;
using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, Primitive>>;
using Boxes = fcl::BVHModel<fcl::OBBRSSd>;

std::unique_ptr<Boxes> boxes_of(const TriMesh& mesh) {
  std::vector<fcl::Vector3d> points;
  std::vector<fcl::Triangle> facets;
  for (const Vec3& v : mesh.vertices)
    points.emplace_back(v.x, v.y, v.z);
  for (const Tri& t : mesh.triangles)
    facets.emplace_back(t[0], t[1], t[2]);
  auto boxes = std::make_unique<Boxes>();
  boxes->beginModel(static_cast<int>(facets.size()), static_cast<int>(points.size()));
  boxes->addSubModel(points, facets);
  if (boxes->endModel() != fcl::BVH_OK)
    throw std::runtime_error("FCL does not take the mesh");
  return boxes;
}

Kernel::Point_3 point(Vec3 p) {
  return {p.x, p.y, p.z};
}

Surface surface_of(const TriMesh& mesh) {
  Surface surface;
  std::vector<Surface::Vertex_index> ids;
  for (const Vec3& v : mesh.vertices)
    ids.push_back(surface.add_vertex(point(v)));
  for (const Tri& t : mesh.triangles)
    if (surface.add_face(ids[t[0]], ids[t[1]], ids[t[2]]) == Surface::null_face())
      throw std::runtime_error("CGAL: facets do not join");
  return surface;
}

double volume_of(const Surface& surface) {
  return CGAL::to_double(CGAL::Polygon_mesh_processing::volume(surface));
}

} // namespace

double mesh_distance(const TriMesh& a, const TriMesh& b) {
  const auto first = boxes_of(a), second = boxes_of(b);
  const fcl::Transform3d here = fcl::Transform3d::Identity();
  fcl::DistanceRequestd request;
  fcl::DistanceResultd result;
  return fcl::distance<double>(first.get(), here, second.get(), here, request, result);
}

double polygon_gap(std::span<const Point2> a, std::span<const Point2> b) {
  const auto polygon = [](std::span<const Point2> points) {
    CGAL::Polygon_2<Kernel> out;
    for (const Point2 p : points)
      out.push_back({p.x, p.y});
    return out;
  };
  const auto first = polygon(a), second = polygon(b);
  if (!first.has_on_unbounded_side(second.vertex(0)) ||
      !second.has_on_unbounded_side(first.vertex(0)))
    return 0;
  double least = CGAL::squared_distance(first.edge(0), second.edge(0));
  for (auto i = first.edges_begin(); i != first.edges_end(); ++i)
    for (auto j = second.edges_begin(); j != second.edges_end(); ++j)
      least = std::min(least, CGAL::squared_distance(*i, *j));
  return std::sqrt(least);
}

std::size_t self_crossings(const TriMesh& mesh) {
  const Surface surface = surface_of(mesh);
  std::vector<std::pair<Surface::Face_index, Surface::Face_index>> pairs;
  CGAL::Polygon_mesh_processing::self_intersections(surface, std::back_inserter(pairs));
  return pairs.size();
}

double volume_below_plane(const TriMesh& body, double level, double slope) {
  Surface surface = surface_of(body);
  // z - slope x - level <= 0 is kept.
  if (!CGAL::Polygon_mesh_processing::clip(surface, Kernel::Plane_3(-slope, 0, 1, -level),
                                           CGAL::parameters::clip_volume(true)))
    throw std::runtime_error("CGAL does not cut the body");
  return volume_of(surface);
}

double shared_volume(const TriMesh& a, const TriMesh& b) {
  Surface first = surface_of(a), second = surface_of(b), both;
  if (!CGAL::Polygon_mesh_processing::corefine_and_compute_intersection(first, second, both))
    throw std::runtime_error("CGAL does not intersect the bodies");
  return volume_of(both);
}

struct PointDistance::Body {
  Surface surface;
  Tree tree;
  mutable std::optional<CGAL::Side_of_triangle_mesh<Surface, Kernel>> side;
};

PointDistance::PointDistance(const TriMesh& mesh) : body_(std::make_unique<Body>()) {
  // CGAL refuses facets that do not join their neighbours in one orientation; those get corners of
  // their own, which changes no distance.
  std::vector<Surface::Vertex_index> ids;
  for (const Vec3& v : mesh.vertices)
    ids.push_back(body_->surface.add_vertex(point(v)));
  for (const Tri& t : mesh.triangles) {
    const Vec3 a = mesh.vertices[t[0]], b = mesh.vertices[t[1]], c = mesh.vertices[t[2]];
    if (!(length(cross(b - a, c - a)) > 0))
      continue;
    if (body_->surface.add_face(ids[t[0]], ids[t[1]], ids[t[2]]) == Surface::null_face())
      body_->surface.add_face(body_->surface.add_vertex(point(a)),
                              body_->surface.add_vertex(point(b)),
                              body_->surface.add_vertex(point(c)));
  }
  body_->tree.insert(faces(body_->surface).first, faces(body_->surface).second, body_->surface);
  body_->tree.build();
  body_->tree.accelerate_distance_queries();
}

PointDistance::~PointDistance() = default;

double PointDistance::operator()(Vec3 p) const {
  return std::sqrt(CGAL::to_double(body_->tree.squared_distance(point(p))));
}

bool PointDistance::inside(Vec3 p) const {
  if (!body_->side) {
    if (!CGAL::is_closed(body_->surface))
      throw std::runtime_error("CGAL: the mesh is not closed");
    body_->side.emplace(body_->surface);
  }
  return (*body_->side)(point(p)) == CGAL::ON_BOUNDED_SIDE;
}

} // namespace leastwall::peers
