#include "budget/advice/plan_room.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

using Corners = std::array<Point2, 3>;

Corners seen_from_above(std::span<const WallSample> samples, const Tri& cell, Point2 from) {
  Corners out;
  for (std::size_t i = 0; i < 3; ++i) {
    const Vec3& p = samples[cell[i]].at;
    out[i] = {p.x - from.x, p.y - from.y};
  }
  return out;
}

double cross(Point2 a, Point2 b) {
  return a.x * b.y - a.y * b.x;
}

/// Whether 0, 0 lies in the triangle or on its edge; a triangle on edge holds nothing.
bool holds_zero(const Corners& c) {
  const double a = cross(c[0], c[1]), b = cross(c[1], c[2]), d = cross(c[2], c[0]);
  return (a >= 0 && b >= 0 && d >= 0 && a + b + d > 0) ||
         (a <= 0 && b <= 0 && d <= 0 && a + b + d < 0);
}

/// From 0, 0 to the segment, squared.
double squared_to_edge(Point2 a, Point2 b) {
  const double x = b.x - a.x, y = b.y - a.y, length2 = x * x + y * y;
  const double t = length2 > 0 ? std::clamp(-(a.x * x + a.y * y) / length2, 0.0, 1.0) : 0;
  const double px = a.x + t * x, py = a.y + t * y;
  return px * px + py * py;
}

/// Whether all of the triangle lies beyond the square |x|, |y| <= half along the direction (x, y).
bool beyond(const Corners& c, double x, double y, double half) {
  const double reach = half * (std::abs(x) + std::abs(y));
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const Point2& p : c) {
    const double along = p.x * x + p.y * y;
    low = std::min(low, along);
    high = std::max(high, along);
  }
  return low > reach || high < -reach;
}

} // namespace

double plan_distance(std::span<const WallSample> samples, std::span<const Tri> cells, Point2 at) {
  double least = std::numeric_limits<double>::infinity();
  for (const Tri& cell : cells) {
    const Corners c = seen_from_above(samples, cell, at);
    if (holds_zero(c))
      return 0;
    for (std::size_t i = 0; i < 3; ++i)
      least = std::min(least, squared_to_edge(c[i], c[(i + 1) % 3]));
  }
  return std::sqrt(least);
}

bool square_meets_part(std::span<const WallSample> samples, std::span<const Tri> cells, Point2 at,
                       double half_mm) {
  return std::ranges::any_of(cells, [&](const Tri& cell) {
    // Two convex shapes lie apart where an edge of one of them parts them.
    const Corners c = seen_from_above(samples, cell, at);
    if (beyond(c, 1, 0, half_mm) || beyond(c, 0, 1, half_mm))
      return false;
    for (std::size_t i = 0; i < 3; ++i) {
      const Point2 a = c[i], b = c[(i + 1) % 3];
      if (beyond(c, a.y - b.y, b.x - a.x, half_mm))
        return false;
    }
    return true;
  });
}

} // namespace leastwall
