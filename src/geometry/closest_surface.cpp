#include "geometry/closest_surface.h"

#include "base/errors.h"

#include <algorithm>
#include <cmath>
#include <embree3/rtcore.h>

namespace leastwall {

struct ClosestSurface::Tree {
  const TriMesh& mesh;
  Vec3 origin;
  double slack = 0; ///< mm: more than single precision can hide anywhere in the box
  RTCDevice device = nullptr;
  RTCScene scene = nullptr;

  explicit Tree(const TriMesh& m) : mesh(m) {
    const Box box = mesh.box();
    origin = box.middle();
    slack = 1e-6 * std::max({box.size().x, box.size().y, box.size().z, 1e-3});
    device = rtcNewDevice(nullptr);
    if (device == nullptr)
      throw RunError("the distance tree could not be started (no memory?); close other programs");
    scene = rtcNewScene(device);
    rtcSetSceneFlags(scene, RTC_SCENE_FLAG_ROBUST);
    RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
    auto* v = static_cast<float*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0,
                                                          RTC_FORMAT_FLOAT3, 3 * sizeof(float),
                                                          mesh.vertices.size()));
    auto* t = static_cast<std::uint32_t*>(
        rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                3 * sizeof(std::uint32_t), mesh.triangles.size()));
    if (v == nullptr || t == nullptr) {
      rtcReleaseGeometry(geometry);
      release();
      throw RunError("not enough memory for the distance tree; use coarser meshes");
    }
    for (const Vec3& p : mesh.vertices) {
      const Vec3 q = p - origin;
      *v++ = static_cast<float>(q.x);
      *v++ = static_cast<float>(q.y);
      *v++ = static_cast<float>(q.z);
    }
    for (const Tri& tri : mesh.triangles)
      t = std::copy(tri.begin(), tri.end(), t);
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(scene, geometry);
    rtcReleaseGeometry(geometry);
    rtcCommitScene(scene);
    if (rtcGetDeviceError(device) != RTC_ERROR_NONE) {
      release();
      throw RunError("the distance tree could not be built (memory?); use coarser meshes");
    }
  }
  void release() {
    if (scene != nullptr)
      rtcReleaseScene(scene);
    if (device != nullptr)
      rtcReleaseDevice(device);
    scene = nullptr;
    device = nullptr;
  }
  ~Tree() { release(); }
  Tree(const Tree&) = delete;
  Tree& operator=(const Tree&) = delete;

  TriangleCorners corners(std::uint32_t i) const {
    const Tri& t = mesh.triangles[i];
    return {mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]};
  }

  /// Search radius that certainly reaches everything within `d` of the query.
  float reach(double d, double query_slack) const {
    const double r = d * (1 + 1e-6) + query_slack;
    return r < 1e18 ? static_cast<float>(r) : std::numeric_limits<float>::infinity();
  }

  template <class Visit> void search(Vec3 p, double radius, Visit& visit) const {
    const Vec3 q = p - origin;
    RTCPointQuery query{};
    query.x = static_cast<float>(q.x);
    query.y = static_cast<float>(q.y);
    query.z = static_cast<float>(q.z);
    query.time = 0;
    // Far queries lose absolute precision: widen by their own rounding.
    visit.query_slack = slack + 1e-6 * std::max({std::abs(q.x), std::abs(q.y), std::abs(q.z)});
    query.radius = reach(radius, visit.query_slack);
    RTCPointQueryContext context;
    rtcInitPointQueryContext(&context);
    rtcPointQuery(
        scene, &query, &context,
        [](RTCPointQueryFunctionArguments* args) -> bool {
          auto& v = *static_cast<Visit*>(args->userPtr);
          const std::optional<double> shrunk = v(args->primID);
          if (!shrunk)
            return false;
          args->query->radius =
              std::min(args->query->radius, v.tree->reach(*shrunk, v.query_slack));
          return true;
        },
        &visit);
  }
};

namespace {

template <class Tree> struct NearestVisit {
  const Tree* tree;
  Vec3 p;
  double best_d2 = std::numeric_limits<double>::infinity();
  SurfaceHit hit{};
  double query_slack = 0;

  std::optional<double> operator()(std::uint32_t triangle) {
    const Vec3 q = closest_point(p, tree->corners(triangle));
    const double d2 = length_squared(p - q);
    if (d2 > best_d2 || (d2 == best_d2 && triangle >= hit.triangle))
      return std::nullopt;
    best_d2 = d2;
    hit = {q, std::sqrt(d2), triangle};
    return hit.distance;
  }
};

template <class Tree> struct PairVisit {
  const Tree* tree;
  const TriangleCorners* t;
  Vec3 middle;
  double circle; ///< radius about the query point that holds the triangle
  NearestPair best{};
  std::uint32_t best_triangle = std::numeric_limits<std::uint32_t>::max();
  bool found = false;
  double query_slack = 0;

  std::optional<double> operator()(std::uint32_t triangle) {
    const TriangleCorners other = tree->corners(triangle);
    // The plane through the facet's point nearest to the middle, square to the way there, has the
    // whole facet behind it: what the corners stand in front of it bounds the distance.
    const Vec3 foot = closest_point(middle, other);
    const Vec3 way = middle - foot;
    const double gap = length(way);
    if (gap > 0) {
      const double front =
          std::min({dot(way, (*t)[0] - foot), dot(way, (*t)[1] - foot), dot(way, (*t)[2] - foot)});
      if (front > best.distance * gap)
        return std::nullopt;
    }
    const NearestPair pair = triangle_pair(*t, other);
    if (pair.distance > best.distance ||
        (pair.distance == best.distance && found && triangle >= best_triangle))
      return std::nullopt;
    best = pair;
    best_triangle = triangle;
    found = true;
    return pair.distance + circle;
  }
};

} // namespace

ClosestSurface::ClosestSurface(const TriMesh& mesh) {
  if (mesh.triangles.empty())
    throw InputError("a surface without triangles cannot be measured; check the mesh files");
  tree_ = std::make_unique<Tree>(mesh);
}
ClosestSurface::~ClosestSurface() = default;

SurfaceHit ClosestSurface::nearest(Vec3 p, std::optional<std::uint32_t> hint) const {
  NearestVisit<Tree> visit{tree_.get(), p};
  double radius = std::numeric_limits<double>::infinity();
  if (hint)
    radius = *visit(*hint);
  tree_->search(p, radius, visit);
  return visit.hit;
}

std::optional<NearestPair> ClosestSurface::nearest_to_triangle(const TriangleCorners& t,
                                                               double below_mm) const {
  const Vec3 middle = (t[0] + t[1] + t[2]) / 3.0;
  const double circle =
      std::max({distance(middle, t[0]), distance(middle, t[1]), distance(middle, t[2])});
  PairVisit<Tree> visit{tree_.get(), &t, middle, circle};
  visit.best.distance = below_mm;
  tree_->search(middle, below_mm + circle, visit);
  if (!visit.found)
    return std::nullopt;
  return visit.best;
}

TriangleCorners ClosestSurface::corners(std::uint32_t triangle) const {
  return tree_->corners(triangle);
}
const TriMesh& ClosestSurface::mesh() const {
  return tree_->mesh;
}

} // namespace leastwall
