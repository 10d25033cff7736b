#include "bed/seat/rigid_seat.h"

#include "base/maths/hypot.h"
#include "space/box.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leastwall {
namespace {

using Weights = std::array<double, 3>;

struct Basis {
  std::array<Vec3, 3> p;
  double twice_area() const {
    return (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[2].x - p[0].x) * (p[1].y - p[0].y);
  }
  // Weights that put (x, y) together from the three places; they sum to 1.
  Weights weights(double x, double y) const {
    const double d = twice_area();
    const double w1 = ((x - p[0].x) * (p[2].y - p[0].y) - (p[2].x - p[0].x) * (y - p[0].y)) / d;
    const double w2 = ((p[1].x - p[0].x) * (y - p[0].y) - (x - p[0].x) * (p[1].y - p[0].y)) / d;
    return {1 - w1 - w2, w1, w2};
  }
  // How the weights change with x and with y.
  Weights along_x() const {
    const double d = twice_area();
    return {(p[1].y - p[2].y) / d, (p[2].y - p[0].y) / d, (p[0].y - p[1].y) / d};
  }
  Weights along_y() const {
    const double d = twice_area();
    return {(p[2].x - p[1].x) / d, (p[0].x - p[2].x) / d, (p[1].x - p[0].x) / d};
  }
  SeatPlane plane() const {
    const auto mean = [&](const Weights& w) {
      return w[0] * p[0].z + w[1] * p[1].z + w[2] * p[2].z;
    };
    return {mean(along_x()), mean(along_y()), mean(weights(0, 0))};
  }
};

// Which place goes when one comes in whose weights are `need`: the first whose weight runs out as
// the new one's grows. Where two run out at once (the middle lies on an edge), the middle counts as
// moved by an endlessly small step along x and a much smaller one along y: the same basis never
// comes back, so the search ends.
int leaves(const Basis& basis, const Weights& need) {
  const std::array<Weights, 3> have{basis.weights(0, 0), basis.along_x(), basis.along_y()};
  const auto sooner = [&](std::size_t i, std::size_t j) {
    for (const Weights& h : have) {
      const double size = std::max({std::fabs(h[0]), std::fabs(h[1]), std::fabs(h[2])});
      const double a = h[i] * need[j], b = h[j] * need[i];
      if (std::fabs(a - b) > 1e-12 * size * std::max(need[i], need[j]))
        return a < b;
    }
    return false;
  };
  int leave = -1;
  for (std::size_t i = 0; i < 3; ++i)
    if (need[i] > 1e-12 && (leave < 0 || sooner(i, static_cast<std::size_t>(leave))))
      leave = static_cast<int>(i);
  return leave;
}

} // namespace

// A linear programme in three unknowns, solved from its dual: of all triangles of places around the
// middle, the one whose plane is highest over the middle. Each step takes in the place that stands
// highest above the plane and lets go of the one whose weight runs out first (Dantzig's simplex
// rule); a triangle of three far, very low places starts it and must be gone at the end. Places
// count from the middle.
std::optional<SeatPlane> lowest_plane(std::span<const Vec3> places, Point2 over) {
  Box box;
  for (const Vec3& p : places)
    box.add(p - Vec3{over.x, over.y, 0});
  const double reach = 4 * maths::hypot(std::max(std::fabs(box.low.x), std::fabs(box.high.x)),
                                        std::max(std::fabs(box.low.y), std::fabs(box.high.y)));
  if (places.size() < 3 || !(reach > 0))
    return std::nullopt;
  const double range = box.high.z - box.low.z, deep = box.low.z - 1e4 * (range + 1e-3);
  Basis basis{{Vec3{-0.9 * reach, -0.6 * reach, deep}, Vec3{0.95 * reach, -0.5 * reach, deep},
               Vec3{-0.05 * reach, 1.1 * reach, deep}}};
  std::array<bool, 3> artificial{true, true, true};
  const double tolerance = 1e-12 * (1 + range);
  SeatPlane plane = basis.plane();
  for (std::size_t step = 0;; ++step) {
    Vec3 highest;
    double most = tolerance;
    for (const Vec3& p : places) {
      const double above = p.z - plane.at({p.x - over.x, p.y - over.y});
      if (above > most) {
        most = above;
        highest = {p.x - over.x, p.y - over.y, p.z};
      }
    }
    if (most <= tolerance)
      break;
    if (step >= places.size() + 1000) { // rounding leads it in a circle: nothing may stand through
      plane.offset_mm += most;
      break;
    }
    const int leave = leaves(basis, basis.weights(highest.x, highest.y));
    if (leave < 0)
      return std::nullopt;
    basis.p[static_cast<std::size_t>(leave)] = highest;
    artificial[static_cast<std::size_t>(leave)] = false;
    plane = basis.plane();
  }
  if (artificial[0] || artificial[1] || artificial[2])
    return std::nullopt;
  plane.offset_mm -= plane.slope_x * over.x + plane.slope_y * over.y;
  return plane;
}

} // namespace leastwall
