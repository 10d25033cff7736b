#include "gourd_shape.h"

#include "curves.h"

#include "base/maths/angles.h"
#include "base/maths/exp_log.h"
#include "base/maths/hypot.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leastwall::demo {
namespace {

using std::numbers::pi;

// Outline of the pocket at the parting plane: two ellipses, blended at the waist. mm.
struct Bulb {
  double centre, half_length, half_width;
};
constexpr Bulb foot_bulb{-37, 49, 46};
constexpr Bulb neck_bulb{44, 36, 31};
constexpr double foot_end = -86, neck_end = 80;
constexpr double waist_blend = 1200; // mm2; larger: a wider waist

constexpr double depth_per_width = 0.85;
constexpr double rim_angle = 62 * pi / 180; // of the arc that a cross-section is; gives it draft

// Wall, mm.
constexpr int ribs = 11;
constexpr double groove_wall = 1.40, rib_height = 1.35, waist_extra = 0.35;
constexpr double rim_wall = 3.0, end_wall = 3.4, stem_length = 11;

// Places where a groove was drawn too deep: where along x, which groove (1..10 from the near rim),
// and the wall left there.
struct ThinPlace {
  double x;
  int groove;
  double wall, half_length;
};
constexpr ThinPlace thin_places[] = {{-47, 6, 0.715, 8}, {-24, 4, 0.760, 6}, {-58, 3, 0.950, 7},
                                     {52, 7, 0.735, 6},  {40, 4, 0.790, 5},  {-14, 8, 1.050, 6}};

struct SquaredRadius {
  double value, derivative;
};

SquaredRadius squared_radius(double x) {
  const auto of = [x](const Bulb& b) {
    const double u = (x - b.centre) / b.half_length;
    const double w2 = b.half_width * b.half_width;
    return SquaredRadius{w2 * (1 - u * u), -2 * w2 * u / b.half_length};
  };
  const SquaredRadius a = of(foot_bulb), b = of(neck_bulb);
  const double difference = a.value - b.value;
  const double h = std::max(waist_blend - std::abs(difference), 0.0) / waist_blend;
  const SquaredRadius& larger = difference > 0 ? a : b;
  const double slope = (a.derivative - b.derivative) * (difference > 0 ? -1 : 1);
  return {larger.value + 0.25 * h * h * waist_blend, larger.derivative + 0.5 * h * slope};
}

double x_at(double u) {
  return mix(foot_end, neck_end, 0.5 - 0.5 * maths::cos(pi * u));
}

// Unit cross-section (half width 1): y, depth and their derivatives along the angle.
struct Arc {
  double y, depth, dy, ddepth;
};

Arc arc(double across) {
  const double phi = rim_angle * across;
  const double s = maths::sin(rim_angle), c = maths::cos(rim_angle);
  return {maths::sin(phi) / s, (maths::cos(phi) - c) / (1 - c) * depth_per_width, maths::cos(phi) / s,
          -maths::sin(phi) / (1 - c) * depth_per_width};
}

Vec3 outward(const GourdShape::Section& s, const Arc& a) {
  if (s.radius == 0)
    return {s.radius_dx > 0 ? -1.0 : 1.0, 0, 0};
  return unit(
      {-s.radius_dx * (a.dy * a.depth - a.y * a.ddepth), -s.radius * a.ddepth, -s.radius * a.dy});
}

} // namespace

GourdShape::GourdShape() {
  constexpr int steps = 16384;
  outline_.assign(steps + 1, 0.0);
  double x = foot_end, r = 0;
  for (int i = 1; i <= steps; ++i) {
    const double next_x = x_at(static_cast<double>(i) / steps);
    const double next_r = std::sqrt(std::max(0.0, squared_radius(next_x).value));
    outline_[static_cast<std::size_t>(i)] =
        outline_[static_cast<std::size_t>(i) - 1] + maths::hypot(next_x - x, next_r - r);
    x = next_x;
    r = next_r;
  }
}

GourdShape::Section GourdShape::section(double along) const {
  const double total = outline_.back(), wanted = along * total;
  const auto upper = std::clamp(std::upper_bound(outline_.begin(), outline_.end(), wanted),
                                outline_.begin() + 1, outline_.end() - 1);
  const double below = *(upper - 1), above = *upper;
  const double step = static_cast<double>(upper - outline_.begin() - 1) +
                      std::clamp((wanted - below) / (above - below), 0.0, 1.0);
  Section s;
  s.x = x_at(step / static_cast<double>(outline_.size() - 1));
  const SquaredRadius r2 = squared_radius(s.x);
  const bool at_end = along <= 0 || along >= 1;
  s.radius = at_end ? 0 : std::sqrt(std::max(0.0, r2.value));
  s.radius_dx = 0.5 * r2.derivative;
  s.from_foot = wanted;
  s.from_neck = total - wanted;
  double low = 1, high = 0.5 * pi / rim_angle; // the skin is below z = 0 at 1, above at the other
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    const Arc a = arc(middle);
    const double z = -s.radius * a.depth + wall(s, middle) * outward(s, a).z;
    (z < 0 ? low : high) = middle;
  }
  s.skin_reach = low;
  return s;
}

Vec3 GourdShape::pocket(const Section& s, double across) const {
  const Arc a = arc(across);
  return {s.x, s.radius * a.y, std::abs(across) >= 1 ? 0 : -s.radius * a.depth};
}

Vec3 GourdShape::skin(const Section& s, double across) const {
  const Arc a = arc(across);
  const Vec3 p = Vec3{s.x, s.radius * a.y, -s.radius * a.depth} + wall(s, across) * outward(s, a);
  return {p.x, p.y, std::abs(across) >= s.skin_reach ? 0 : p.z};
}

double GourdShape::wall(const Section& s, double across) const {
  const double groove = ribs * 0.5 * (across + 1); // a whole number in the middle of a groove
  const double rib = 0.5 - 0.5 * maths::cos(2 * pi * groove);
  const double usual = groove_wall + 0.05 * maths::sin(s.x / 11 + 1.9 * groove) +
                       waist_extra * (1 - smooth_step(21, 31, s.radius));
  // Lower ribs on the steep sides, so that no flank leans over.
  const double height = rib_height * s.radius / foot_bulb.half_width * (1 - 0.3 * across * across);
  double t = usual + height * rib;
  for (const ThinPlace& place : thin_places) {
    const double u = (s.x - place.x) / place.half_length, v = (groove - place.groove) / 0.3;
    t -= (usual - place.wall) * maths::exp(-u * u - v * v);
  }
  t = mix(rim_wall, t, smooth_step(0, 1.3 / ribs, 1 - std::abs(across)));
  t = mix(end_wall, t, smooth_step(3, 30, std::min(s.from_foot, s.from_neck)));
  return t + stem_length * (1 - smooth_step(1.5, 7.5, s.from_neck));
}

} // namespace leastwall::demo
