#include "spatial/triangle_distance.h"

#include <algorithm>
#include <limits>
#include <optional>

namespace leastwall {
namespace {

Vec3 closest_on_segment(Vec3 p, Vec3 a, Vec3 b) {
  const Vec3 d = b - a;
  const double l2 = length_squared(d);
  if (!(l2 > 0))
    return a;
  const double s = std::clamp(dot(p - a, d) / l2, 0.0, 1.0);
  return s == 1.0 ? b : a + d * s;
}

/// Foot of `p` on the plane of `t` when it lies inside the triangle.
std::optional<Vec3> foot_inside(Vec3 p, const TriangleCorners& t, Vec3 normal) {
  const double n2 = length_squared(normal);
  if (!(n2 > 0))
    return std::nullopt;
  for (int i = 0; i < 3; ++i) {
    const Vec3 a = t[static_cast<std::size_t>(i)], b = t[static_cast<std::size_t>((i + 1) % 3)];
    if (dot(cross(b - a, p - a), normal) < 0)
      return std::nullopt;
  }
  return p - normal * (dot(p - t[0], normal) / n2);
}

Vec3 normal_of(const TriangleCorners& t) {
  return cross(t[1] - t[0], t[2] - t[0]);
}

/// Point where segment a-b passes through triangle `t`, if it does.
std::optional<Vec3> passes_through(Vec3 a, Vec3 b, const TriangleCorners& t, Vec3 normal) {
  const double da = dot(a - t[0], normal), db = dot(b - t[0], normal);
  if ((da > 0 && db > 0) || (da < 0 && db < 0) || da == db)
    return std::nullopt;
  const Vec3 x = a + (b - a) * (da / (da - db));
  return foot_inside(x, t, normal);
}

} // namespace

Vec3 closest_point(Vec3 p, const TriangleCorners& t) {
  const Vec3 ab = t[1] - t[0], ac = t[2] - t[0], bc = t[2] - t[1];
  const Vec3 ap = p - t[0], normal = cross(ab, ac);
  const double n2 = length_squared(normal);
  constexpr double kSliver2 = 1e-12; // height over longest side, squared
  const double longest2 = std::max({length_squared(ab), length_squared(ac), length_squared(bc)});
  const bool sliver = !(n2 > kSliver2 * longest2 * longest2);
  bool over_ab = dot(cross(ab, ap), normal) < 0, over_bc = dot(cross(bc, p - t[1]), normal) < 0,
       over_ca = dot(cross(ap, ac), normal) < 0;
  if (!sliver && !over_ab && !over_bc && !over_ca)
    return p - normal * (dot(ap, normal) / n2);
  // The nearest point is on an edge that p is over, seen along the normal: from a point within an
  // edge, the way to p leads straight over that edge; from a corner, over one of its two edges or
  // both (it is a sum of their outward normals). A sliver's normal is too uncertain to tell.
  if (sliver)
    over_ab = over_bc = over_ca = true;
  Vec3 best;
  double best_d2 = std::numeric_limits<double>::infinity();
  const auto look = [&](Vec3 a, Vec3 b) {
    const Vec3 q = closest_on_segment(p, a, b);
    const double d2 = length_squared(p - q);
    if (d2 < best_d2) {
      best = q;
      best_d2 = d2;
    }
  };
  if (over_ab)
    look(t[0], t[1]);
  if (over_bc)
    look(t[1], t[2]);
  if (over_ca)
    look(t[2], t[0]);
  return best;
}

NearestPair segment_pair(Vec3 a0, Vec3 a1, Vec3 b0, Vec3 b1) {
  const Vec3 u = a1 - a0, v = b1 - b0, w = a0 - b0;
  const double uu = dot(u, u), vv = dot(v, v), uv = dot(u, v), uw = dot(u, w), vw = dot(v, w);
  const double det = uu * vv - uv * uv;
  double s = det > 0 ? std::clamp((uv * vw - vv * uw) / det, 0.0, 1.0) : 0.5;
  double t = 0;
  // Each step projects exactly onto one segment; a few steps settle clamped and near-parallel
  // cases.
  for (int step = 0; step < 4; ++step) {
    t = vv > 0 ? std::clamp((uv * s + vw) / vv, 0.0, 1.0) : 0.0;
    s = uu > 0 ? std::clamp((uv * t - uw) / uu, 0.0, 1.0) : 0.0;
  }
  const Vec3 p = s == 1.0 ? a1 : a0 + u * s, q = t == 1.0 ? b1 : b0 + v * t;
  return {p, q, distance(p, q)};
}

NearestPair triangle_pair(const TriangleCorners& a, const TriangleCorners& b) {
  NearestPair best;
  best.distance = std::numeric_limits<double>::infinity();
  const auto keep = [&best](Vec3 p, Vec3 q, double d) {
    if (d < best.distance)
      best = {p, q, d};
  };
  const Vec3 na = normal_of(a), nb = normal_of(b);
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = (i + 1) % 3;
    if (const auto x = passes_through(a[i], a[j], b, nb))
      return {*x, *x, 0.0};
    if (const auto x = passes_through(b[i], b[j], a, na))
      return {*x, *x, 0.0};
  }
  for (const Vec3 p : a) {
    const Vec3 q = closest_point(p, b);
    keep(p, q, distance(p, q));
  }
  for (const Vec3 q : b) {
    const Vec3 p = closest_point(q, a);
    keep(p, q, distance(p, q));
  }
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t k = 0; k < 3; ++k) {
      const NearestPair pair = segment_pair(a[i], a[(i + 1) % 3], b[k], b[(k + 1) % 3]);
      keep(pair.on_first, pair.on_second, pair.distance);
    }
  return best;
}

} // namespace leastwall
