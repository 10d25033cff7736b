#include "setup/rigid_seat.h"

#include <array>
#include <cmath>
#include <vector>

namespace leastwall {
namespace {

constexpr int kEdgeSteps = 48;

// Places where the board can touch: readings under it, crossings of the reading grid's lines with
// its edges, and its edges in steps. The surface is linear or bilinear between readings, so against
// a plane its highest place in a cell is at one of the cell's corners; along a cut edge the steps
// come close.
std::vector<Vec3> contact_places(const BedMap& bed, const Footprint& f) {
  std::vector<Vec3> places;
  const auto add = [&](double x, double y) {
    if (const std::optional<double> h = bed.height_mm(x, y))
      places.push_back({x, y, *h});
  };
  for (const Vec3& p : bed.points())
    if (p.x >= f.low.x && p.x <= f.high.x && p.y >= f.low.y && p.y <= f.high.y)
      places.push_back(p);
  for (int i = 0; i <= kEdgeSteps; ++i) {
    const double w = static_cast<double>(i) / kEdgeSteps;
    const double x = f.low.x + w * (f.high.x - f.low.x), y = f.low.y + w * (f.high.y - f.low.y);
    add(x, f.low.y);
    add(x, f.high.y);
    add(f.low.x, y);
    add(f.high.x, y);
  }
  for (const double x : bed.grid_x_mm())
    if (x > f.low.x && x < f.high.x) {
      add(x, f.low.y);
      add(x, f.high.y);
    }
  for (const double y : bed.grid_y_mm())
    if (y > f.low.y && y < f.high.y) {
      add(f.low.x, y);
      add(f.high.x, y);
    }
  return places;
}

struct Basis {
  std::array<Vec3, 3> p;
  // Weights that put (x, y) together from the three places; they sum to 1.
  std::array<double, 3> weights(double x, double y) const {
    const double d = (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[2].x - p[0].x) * (p[1].y - p[0].y);
    const double w1 = ((x - p[0].x) * (p[2].y - p[0].y) - (p[2].x - p[0].x) * (y - p[0].y)) / d;
    const double w2 = ((p[1].x - p[0].x) * (y - p[0].y) - (x - p[0].x) * (p[1].y - p[0].y)) / d;
    return {1 - w1 - w2, w1, w2};
  }
  double height(double x, double y) const {
    const std::array<double, 3> w = weights(x, y);
    return w[0] * p[0].z + w[1] * p[1].z + w[2] * p[2].z;
  }
};

} // namespace

// A linear programme in three unknowns, solved from its dual: of all triangles of places around the
// middle, the one whose plane is highest over the middle. Each step takes in the place that stands
// highest above the plane and lets go of the one whose weight runs out first (Dantzig's simplex
// rule); a triangle of three far, very low places starts it and must be gone at the end.
std::optional<SeatPlane> rigid_seat(const BedMap& bed, const Footprint& on_bed) {
  const std::vector<Vec3> places = contact_places(bed, on_bed);
  const Point2 c = on_bed.middle();
  const double reach = 4 * std::hypot(on_bed.high.x - on_bed.low.x, on_bed.high.y - on_bed.low.y);
  const double range = bed.highest().z - bed.lowest().z;
  const double deep = bed.lowest().z - 1e4 * (range + 1e-3);
  Basis basis{{Vec3{c.x - 0.9 * reach, c.y - 0.6 * reach, deep},
               Vec3{c.x + 0.95 * reach, c.y - 0.5 * reach, deep},
               Vec3{c.x - 0.05 * reach, c.y + 1.1 * reach, deep}}};
  std::array<bool, 3> artificial{true, true, true};
  const double tolerance = 1e-12 * (1 + range);
  for (std::size_t step = 0; step < 20 * places.size() + 100; ++step) {
    const Vec3* enter = nullptr;
    double most = tolerance;
    for (const Vec3& p : places) {
      const double above = p.z - basis.height(p.x, p.y);
      if (above > most) {
        most = above;
        enter = &p;
      }
    }
    if (!enter)
      break;
    const std::array<double, 3> have = basis.weights(c.x, c.y);
    const std::array<double, 3> need = basis.weights(enter->x, enter->y);
    int leave = -1;
    double least = 0;
    for (int i = 0; i < 3; ++i) {
      if (need[static_cast<std::size_t>(i)] <= 1e-12)
        continue;
      const double ratio = have[static_cast<std::size_t>(i)] / need[static_cast<std::size_t>(i)];
      if (leave < 0 || ratio < least) {
        leave = i;
        least = ratio;
      }
    }
    if (leave < 0)
      return std::nullopt;
    basis.p[static_cast<std::size_t>(leave)] = *enter;
    artificial[static_cast<std::size_t>(leave)] = false;
  }
  if (artificial[0] || artificial[1] || artificial[2])
    return std::nullopt;
  SeatPlane plane;
  const double h0 = basis.height(0, 0);
  plane.slope_x = basis.height(1, 0) - h0;
  plane.slope_y = basis.height(0, 1) - h0;
  plane.offset_mm = h0;
  return plane;
}

} // namespace leastwall
