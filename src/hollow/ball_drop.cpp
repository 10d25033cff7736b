#include "hollow/ball_drop.h"

#include "space/box.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

namespace leastwall {
namespace {

constexpr std::size_t kLeaf = 4;
constexpr double kNone = -std::numeric_limits<double>::infinity();
/// A place of contact so far beyond a facet's or edge's end still counts, mm: else rounding could
/// leave it to neither of two that meet there.
constexpr double kBeyond_mm = 1e-9;

/// Where the upright line through 0, 0 leaves a ball round `v`, upwards.
double over_corner(Vec3 v, double r) {
  const double beside2 = v.x * v.x + v.y * v.y;
  return beside2 <= r * r ? v.z + std::sqrt(r * r - beside2) : kNone;
}

/// The same of the cylinder round an edge, where it is nearest to the edge between its ends.
double over_edge(Vec3 p, Vec3 q, double r) {
  const double along = length(q - p);
  if (!(along > 0))
    return kNone; // its corners stand for it
  const Vec3 u = (q - p) / along;
  // With t = z - p.z: t^2 (1 - uz^2) - 2 m uz t + p.x^2 + p.y^2 - m^2 - r^2 = 0.
  const double a = u.x * u.x + u.y * u.y, m = -(p.x * u.x + p.y * u.y);
  if (!(a > 1e-18))
    return kNone; // upright: its upper corner's ball reaches higher
  const double half = m * u.z, c = p.x * p.x + p.y * p.y - m * m - r * r;
  const double inside = half * half - a * c;
  if (!(inside >= 0))
    return kNone;
  const double t = (half + std::sqrt(inside)) / a, at = m + t * u.z;
  return at >= -kBeyond_mm && at <= along + kBeyond_mm ? p.z + t : kNone;
}

/// The same of the plane `r` over a facet, where its foot lies on the facet.
double over_face(const TriangleCorners& t, double r) {
  Vec3 n = cross(t[1] - t[0], t[2] - t[0]);
  const double twice_area = length(n);
  if (!(twice_area > 0))
    return kNone;
  n = n / twice_area;
  const double up = n.z < 0 ? -1 : 1;
  n = n * up;
  if (!(n.z > 1e-9))
    return kNone; // upright: its edges stand for it
  const double z = (r + dot(n, t[0])) / n.z;
  const Vec3 foot = Vec3{0, 0, z} - n * r;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec3 edge = t[(k + 1) % 3] - t[k];
    if (dot(cross(n, edge), foot - t[k]) * up < -kBeyond_mm * length(edge))
      return kNone;
  }
  return z;
}

double over_facet(const TriangleCorners& t, double r) {
  double z = over_face(t, r);
  for (std::size_t k = 0; k < 3; ++k)
    z = std::max({z, over_corner(t[k], r), over_edge(t[k], t[(k + 1) % 3], r)});
  return z;
}

} // namespace

BallDrop::BallDrop(const TriMesh& mesh, std::vector<double> reach_mm)
    : reach_(std::move(reach_mm)), order_(mesh.triangles.size()) {
  std::vector<Vec3> middles;
  for (const Tri& t : mesh.triangles) {
    corners_.push_back({mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]});
    const TriangleCorners& c = corners_.back();
    middles.push_back((c[0] + c[1] + c[2]) / 3);
  }
  std::iota(order_.begin(), order_.end(), 0U);
  nodes_.emplace_back();
  split(0, 0, order_.size(), middles);
}

void BallDrop::split(std::uint32_t node, std::size_t begin, std::size_t end,
                     const std::vector<Vec3>& middles) {
  Box box, of_middles;
  double reach = 0;
  for (std::size_t i = begin; i < end; ++i) {
    for (const Vec3& v : corners_[order_[i]])
      box.add(v);
    of_middles.add(middles[order_[i]]);
    reach = std::max(reach, reach_[order_[i]]);
  }
  nodes_[node] = {box.low.x,
                  box.high.x,
                  box.low.y,
                  box.high.y,
                  box.low.z,
                  box.high.z,
                  reach,
                  static_cast<std::uint32_t>(begin),
                  static_cast<std::uint32_t>(end - begin)};
  if (end - begin <= kLeaf)
    return;
  const Vec3 size = of_middles.size();
  double Vec3::*axis = size.x >= size.y ? &Vec3::x : &Vec3::y;
  if (size.z > size.*axis)
    axis = &Vec3::z;
  const std::size_t half = (begin + end) / 2;
  const auto at = [&](std::size_t i) { return order_.begin() + static_cast<std::ptrdiff_t>(i); };
  std::nth_element(at(begin), at(half), at(end), [&](std::uint32_t a, std::uint32_t b) {
    return std::pair(middles[a].*axis, a) < std::pair(middles[b].*axis, b);
  });
  const auto children = static_cast<std::uint32_t>(nodes_.size());
  nodes_[node].first = children;
  nodes_[node].count = 0;
  nodes_.resize(nodes_.size() + 2);
  split(children, begin, half, middles);
  split(children + 1, half, end, middles);
}

double BallDrop::highest_of(const Node& node, Vec3 from) {
  if (node.low_z - node.reach > from.z)
    return kNone;
  const double x = std::max({node.low_x - from.x, from.x - node.high_x, 0.0});
  const double y = std::max({node.low_y - from.y, from.y - node.high_y, 0.0});
  const double rest = node.reach * node.reach - x * x - y * y;
  return rest < 0 ? kNone : node.high_z + std::sqrt(rest);
}

double BallDrop::lowest(Vec3 from, double floor_z) const {
  constexpr double kRounding_mm = 1e-9;
  double best = std::min(floor_z, from.z);
  std::array<std::pair<double, std::uint32_t>, 128> stack; // a tree halved 64 times, at most
  std::size_t top = 0;
  stack[top++] = {highest_of(nodes_[0], from), 0};
  while (top > 0) {
    const auto [high, index] = stack[--top];
    if (high <= best)
      continue;
    const Node& node = nodes_[index];
    if (node.count == 0) {
      std::pair<double, std::uint32_t> one{highest_of(nodes_[node.first], from), node.first};
      std::pair<double, std::uint32_t> other{highest_of(nodes_[node.first + 1], from),
                                             node.first + 1};
      if (one.first > other.first)
        std::swap(one, other);
      stack[top++] = one;
      stack[top++] = other; // the higher first: it most often rules the other out
      continue;
    }
    for (std::uint32_t i = node.first; i < node.first + node.count; ++i) {
      TriangleCorners t = corners_[order_[i]];
      const double r = reach_[order_[i]];
      for (Vec3& v : t)
        v = {v.x - from.x, v.y - from.y, v.z};
      const double z = over_facet(t, r);
      if (z <= best)
        continue;
      if (z <= from.z)
        best = z;
      else if (const Vec3 here{0, 0, from.z};
               length(closest_point(here, t) - here) < r - kRounding_mm)
        return from.z;
    }
  }
  return best;
}

} // namespace leastwall
