// A point or direction in space, double precision, millimetres where it is a point.
#pragma once

#include <cmath>

namespace leastwall {

struct Vec3 {
  double x = 0, y = 0, z = 0;

  constexpr Vec3 operator+(Vec3 o) const { return {x + o.x, y + o.y, z + o.z}; }
  constexpr Vec3 operator-(Vec3 o) const { return {x - o.x, y - o.y, z - o.z}; }
  constexpr Vec3 operator*(double s) const { return {x * s, y * s, z * s}; }
  constexpr Vec3 operator/(double s) const { return {x / s, y / s, z / s}; }
  constexpr Vec3 operator-() const { return {-x, -y, -z}; }
  constexpr Vec3& operator+=(Vec3 o) { return *this = *this + o; }
  constexpr bool operator==(const Vec3&) const = default;
};

constexpr Vec3 operator*(double s, Vec3 v) {
  return v * s;
}
constexpr double dot(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
constexpr Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
constexpr double length_squared(Vec3 v) {
  return dot(v, v);
}
inline double length(Vec3 v) {
  return std::sqrt(dot(v, v));
}
inline double distance(Vec3 a, Vec3 b) {
  return length(b - a);
}
inline bool is_finite(Vec3 v) {
  return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z);
}
/// Unit vector along v; the zero vector when v has no length.
inline Vec3 unit(Vec3 v) {
  const double l = length(v);
  return l > 0 ? v / l : Vec3{};
}

} // namespace leastwall
