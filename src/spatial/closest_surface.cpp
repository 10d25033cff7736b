#include "spatial/closest_surface.h"

#include "base/errors.h"
#include "base/work_count.h"
#include "spatial/triangle_tree_search.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

struct ClosestSurface::Tree {
  const TriMesh& mesh;
  TriangleTree boxes;

  explicit Tree(const TriMesh& m) : mesh(m), boxes(m) {}

  TriangleCorners corners(std::uint32_t i) const {
    const Tri& t = mesh.triangles[i];
    return {mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]};
  }
};

namespace {

template <class Tree> struct NearestVisit {
  const Tree* tree;
  Vec3 p;
  double best_d2 = std::numeric_limits<double>::infinity();
  SurfaceHit hit{};

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

constexpr std::uint64_t kStepsOfPair = 12; ///< that one pair of triangles takes as long as
constexpr double kRounding = 1e-13;        ///< of lengths, in a sum of a few products

/// Steps of looking through a slab, and facets outside it that are looked at: with more in reach,
/// it costs more to find out whether a cell is flat than to measure in it.
constexpr std::uint64_t kStepsInSlab = 800;
constexpr int kMostOutside = 96;

template <class Tree> struct PairVisit {
  const Tree* tree;
  const TriangleCorners* t;
  Vec3 middle;
  double circle; ///< radius about the query point that holds the triangle
  NearestPair best{};
  std::uint32_t best_triangle = std::numeric_limits<std::uint32_t>::max();
  bool found = false;

  /// Of the plane that the facet before was found behind: what lies side by side mostly is behind
  /// one plane.
  Vec3 last_normal{};
  double last_front = 0; ///< the least of `t` along it, from the middle

  bool behind_last_plane(const TriangleCorners& other) const {
    double front = -std::numeric_limits<double>::infinity(), farthest = 0;
    for (const Vec3& corner : other) {
      const Vec3 v = corner - middle;
      front = std::max(front, dot(last_normal, v));
      farthest = std::max(farthest, std::abs(v.x) + std::abs(v.y) + std::abs(v.z));
    }
    return last_front - front > best.distance + kRounding * (best.distance + 2 * circle + farthest);
  }

  std::optional<double> operator()(std::uint32_t triangle) {
    const TriangleCorners other = tree->corners(triangle);
    if (behind_last_plane(other))
      return std::nullopt;
    // The plane through the facet's point nearest to the middle, square to the way there, has the
    // whole facet behind it: what the corners stand in front of it bounds the distance.
    const Vec3 foot = closest_point(middle, other);
    const Vec3 way = middle - foot;
    const double gap = length(way);
    if (gap > 0) {
      last_normal = way / gap;
      last_front = std::min({dot(last_normal, (*t)[0] - middle), dot(last_normal, (*t)[1] - middle),
                             dot(last_normal, (*t)[2] - middle)});
      // With room for rounding: a pair exactly as near as the best must still be looked at.
      if (last_front + gap > best.distance + kRounding * (best.distance + gap + 2 * circle))
        return std::nullopt;
    }
    const NearestPair pair = triangle_pair(*t, other);
    count_steps(kStepsOfPair);
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
  if (hint) // its corners are on the surface, and sooner looked at than its nearest point
    for (const Vec3 corner : tree_->corners(*hint))
      radius = std::min(radius, distance(p, corner));
  tree_->boxes.search(p, radius, visit);
  return visit.hit;
}

std::optional<NearestPair> ClosestSurface::nearest_to_triangle(const TriangleCorners& t,
                                                               double below_mm) const {
  const Vec3 middle = (t[0] + t[1] + t[2]) / 3.0;
  const double circle =
      std::max({distance(middle, t[0]), distance(middle, t[1]), distance(middle, t[2])});
  PairVisit<Tree> visit{tree_.get(), &t, middle, circle};
  visit.best.distance = below_mm;
  tree_->boxes.search(middle, below_mm + circle, visit);
  if (!visit.found)
    return std::nullopt;
  return visit.best;
}

bool ClosestSurface::all_in_slab(
    const TriangleCorners& t, double reach_mm, const Slab& slab,
    const std::function<bool(const TriangleCorners&)>& harmless) const {
  const Vec3 middle = (t[0] + t[1] + t[2]) / 3.0;
  const double circle =
      std::max({distance(middle, t[0]), distance(middle, t[1]), distance(middle, t[2])});
  const double radius = circle + reach_mm;
  int outside = 0;
  const auto visit = [&](std::uint32_t triangle) {
    const TriangleCorners facet = tree_->corners(triangle);
    const bool inside = std::ranges::all_of(facet, [&](const Vec3& corner) {
      const double front = slab.front(corner);
      return front >= slab.low && front <= slab.high;
    });
    return inside || (++outside <= kMostOutside &&
                      (distance(middle, closest_point(middle, facet)) > radius || harmless(facet)));
  };
  return tree_->boxes.search_outside(middle, radius, slab, kStepsInSlab, visit);
}

TriangleCorners ClosestSurface::corners(std::uint32_t triangle) const {
  return tree_->corners(triangle);
}
const TriMesh& ClosestSurface::mesh() const {
  return tree_->mesh;
}

} // namespace leastwall
