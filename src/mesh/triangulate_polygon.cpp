#include "mesh/triangulate_polygon.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

struct Flat {
  double x = 0, y = 0;
  bool operator==(const Flat&) const = default;
};

/// Twice the signed area of a, b, c.
double turn_of(Flat a, Flat b, Flat c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

bool covers(Flat a, Flat b, Flat c, Flat p) {
  if (p == a || p == b || p == c)
    return false;
  return turn_of(a, b, p) >= 0 && turn_of(b, c, p) >= 0 && turn_of(c, a, p) >= 0;
}

/// Sum of the cross products of following corners: twice the area, along the normal (Newell).
Vec3 newell_normal(std::span<const Vec3> p) {
  Vec3 sum;
  for (std::size_t i = 1; i + 1 < p.size(); ++i)
    sum += cross(p[i] - p[0], p[i + 1] - p[0]);
  return sum;
}

/// Drops the axis along which the normal is largest; keeps the direction counter-clockwise.
std::vector<Flat> flattened(std::span<const Vec3> p, Vec3 n) {
  const double x = std::abs(n.x), y = std::abs(n.y), z = std::abs(n.z);
  std::vector<Flat> flat;
  flat.reserve(p.size());
  for (const Vec3& q : p) {
    const Vec3 r = q - p[0];
    if (z >= x && z >= y)
      flat.push_back(n.z > 0 ? Flat{r.x, r.y} : Flat{r.y, r.x});
    else if (x >= y)
      flat.push_back(n.x > 0 ? Flat{r.y, r.z} : Flat{r.z, r.y});
    else
      flat.push_back(n.y > 0 ? Flat{r.z, r.x} : Flat{r.x, r.z});
  }
  return flat;
}

bool has_flat_corner(const std::vector<Flat>& p) {
  for (std::size_t i = 0; i < p.size(); ++i)
    if (turn_of(p[i], p[(i + 1) % p.size()], p[(i + 2) % p.size()]) == 0)
      return true;
  return false;
}

bool clip_ears(const std::vector<Flat>& p, std::vector<Tri>& triangles) {
  const auto n = static_cast<std::uint32_t>(p.size());
  std::vector<std::uint32_t> before(n), after(n);
  for (std::uint32_t i = 0; i < n; ++i) {
    before[i] = i == 0 ? n - 1 : i - 1;
    after[i] = i + 1 == n ? 0 : i + 1;
  }
  const auto is_ear = [&](std::uint32_t i) {
    const std::uint32_t a = before[i], c = after[i];
    if (turn_of(p[a], p[i], p[c]) <= 0)
      return false;
    for (std::uint32_t k = after[c]; k != a; k = after[k])
      if (turn_of(p[before[k]], p[k], p[after[k]]) <= 0 && covers(p[a], p[i], p[c], p[k]))
        return false;
    return true;
  };
  const auto is_flat = [&](std::uint32_t i) {
    return turn_of(p[before[i]], p[i], p[after[i]]) == 0;
  };
  std::uint32_t left = n, at = 0;
  while (left > 3) {
    std::uint32_t ear = at, tried = 0;
    while (tried < left && !is_ear(ear)) {
      ear = after[ear];
      ++tried;
    }
    if (tried == left) { // only corners in a line, or an outline that crosses itself
      for (tried = 0; tried < left && !is_flat(ear); ++tried)
        ear = after[ear];
      if (tried == left)
        return false;
    }
    triangles.push_back({before[ear], ear, after[ear]});
    after[before[ear]] = after[ear];
    before[after[ear]] = before[ear];
    at = after[ear];
    --left;
  }
  triangles.push_back({before[at], at, after[at]});
  return turn_of(p[before[at]], p[at], p[after[at]]) >= 0;
}

} // namespace

PolygonCut triangulate_polygon(std::span<const Vec3> corners, std::vector<Tri>& triangles) {
  PolygonCut cut;
  const Vec3 normal = newell_normal(corners);
  Box box;
  Vec3 middle;
  for (const Vec3& p : corners) {
    box.add(p);
    middle += p / static_cast<double>(corners.size());
  }
  cut.across = length(box.size());
  const Vec3 up = unit(normal);
  for (const Vec3& p : corners)
    cut.bent = std::max(cut.bent, std::abs(dot(p - middle, up)));
  const auto n = static_cast<std::uint32_t>(corners.size());
  if (n == 3 || !(length(normal) > 0)) { // without area: any cut will do, none has area
    for (std::uint32_t i = 1; i + 1 < n; ++i)
      triangles.push_back({0, i, i + 1});
    cut.ok = true;
    return cut;
  }
  const std::vector<Flat> p = flattened(corners, normal);
  if (n == 4) {
    const bool by_02 = turn_of(p[0], p[1], p[2]) > 0 && turn_of(p[0], p[2], p[3]) > 0;
    const bool by_13 = turn_of(p[1], p[2], p[3]) > 0 && turn_of(p[1], p[3], p[0]) > 0;
    const bool short_02 =
        length_squared(corners[2] - corners[0]) <= length_squared(corners[3] - corners[1]);
    // Neither: it crosses itself, or three corners lie in a line.
    if (by_02 == by_13 ? short_02 : by_02)
      triangles.insert(triangles.end(), {{0, 1, 2}, {0, 2, 3}});
    else
      triangles.insert(triangles.end(), {{0, 1, 3}, {1, 2, 3}});
    cut.ok = by_02 || by_13 || has_flat_corner(p);
    return cut;
  }
  cut.ok = clip_ears(p, triangles);
  return cut;
}

} // namespace leastwall
