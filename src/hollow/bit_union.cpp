#include "hollow/bit_union.h"

#include "base/maths/hypot.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

/// The nearest point of a level disc.
BitUnion::Near nearest_of_disc(Vec3 p, Vec3 middle, double radius) {
  const double level = maths::hypot(p.x - middle.x, p.y - middle.y);
  const double part = level > radius ? radius / level : 1;
  const Vec3 on{middle.x + (p.x - middle.x) * part, middle.y + (p.y - middle.y) * part, middle.z};
  return {on, distance(p, on)};
}

/// The nearest point of one bit whose ball's middle is `c`, below the face.
BitUnion::Near nearest_of_bit(Vec3 p, Vec3 c, double radius, double face) {
  const double over = c.z - face;
  // A middle above the face: only a cap goes in, and on the face itself only a disc.
  const double disc = over > 0 ? std::sqrt(std::max(0.0, radius * radius - over * over)) : radius;
  if (p.z >= face)
    return nearest_of_disc(p, {c.x, c.y, p.z}, disc);
  const Vec3 from{c.x, c.y, std::max(c.z, p.z)}; // of the axis
  const double far = distance(p, from);
  if (far <= radius)
    return {p, 0};
  const BitUnion::Near near{from + (p - from) * (radius / far), far - radius};
  return near.point.z <= face ? near : nearest_of_disc(p, {c.x, c.y, face}, disc);
}

} // namespace

std::optional<BitUnion::Near> BitUnion::nearest(Vec3 p, double below_mm) const {
  const Lattice& at = depths_.at;
  const auto column = static_cast<std::ptrdiff_t>(std::floor((p.x - at.left_mm) / at.step_mm));
  const auto row = static_cast<std::ptrdiff_t>(std::floor((p.y - at.near_mm) / at.step_mm));
  const auto nx = static_cast<std::ptrdiff_t>(at.nx), ny = static_cast<std::ptrdiff_t>(at.ny);
  std::optional<Near> best;
  double under = below_mm;
  const auto look = [&](std::ptrdiff_t i, std::ptrdiff_t j) {
    if (i < 0 || j < 0 || i >= nx || j >= ny)
      return;
    const auto a = static_cast<std::size_t>(i), b = static_cast<std::size_t>(j);
    depths_.each_place(at.node(a, b), [&](double dx, double dy, double middle) {
      const Near near = nearest_of_bit(p, {at.x(a) + dx, at.y(b) + dy, middle}, radius_, face_);
      if (near.distance_mm < under) {
        under = near.distance_mm;
        best = near;
      }
    });
  };
  // Square rings of nodes; a place lies up to a step behind its node.
  for (std::ptrdiff_t ring = 0;
       static_cast<double>(ring - 2) * at.step_mm - radius_ < under && under > 0; ++ring) {
    for (std::ptrdiff_t k = -ring; k <= ring; ++k) {
      look(column + k, row - ring);
      if (ring > 0)
        look(column + k, row + ring);
    }
    for (std::ptrdiff_t k = -ring + 1; k < ring; ++k) {
      look(column - ring, row + k);
      look(column + ring, row + k);
    }
  }
  return best;
}

} // namespace leastwall
