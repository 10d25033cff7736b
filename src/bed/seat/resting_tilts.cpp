#include "bed/seat/resting_tilts.h"

#include "base/maths/hypot.h"
#include "bed/seat/contact_places.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <span>
#include <utility>

namespace leastwall {
namespace {

constexpr std::size_t kMaxPlanes = 64;
constexpr double kTold_mm = 1e-3; // less rocking than this is not told

using Polygon = std::vector<Point2>;

// What is left of a convex polygon where p is not above q (Sutherland and Hodgman 1974).
Polygon where_lower(const Polygon& polygon, const SeatPlane& p, const SeatPlane& q) {
  Polygon out;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
    const double at_a = p.at(a) - q.at(a), at_b = p.at(b) - q.at(b);
    if (at_a <= 0)
      out.push_back(a);
    if ((at_a < 0 && at_b > 0) || (at_a > 0 && at_b < 0)) {
      const double s = at_a / (at_a - at_b);
      out.push_back({a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)});
    }
  }
  return out;
}

class Facets {
 public:
  Facets(std::span<const Vec3> places, Point2 middle, double half) : places_(places) {
    Polygon square;
    for (const auto& [x, y] : {std::pair{-1, -1}, {1, -1}, {1, 1}, {-1, 1}})
      square.push_back({middle.x + x * half, middle.y + y * half});
    double low = places.front().z, high = low;
    for (const Vec3& p : places) {
      low = std::min(low, p.z);
      high = std::max(high, p.z);
    }
    tolerance_ = 1e-10 * (1 + high - low);
    look_at(middle);
    while (planes.size() < kMaxPlanes && look_around(square)) {
    }
  }

  std::vector<SeatPlane> planes;

 private:
  // Takes in the hull's plane over v if it is lower there than the planes so far.
  bool look_at(Point2 v) {
    if (!seen_.insert({v.x, v.y}).second)
      return false;
    const std::optional<SeatPlane> plane = lowest_plane(places_, v);
    if (!plane)
      return false;
    for (const SeatPlane& known : planes)
      if (known.at(v) <= plane->at(v) + tolerance_)
        return false;
    planes.push_back(*plane);
    return true;
  }

  bool look_around(const Polygon& square) {
    if (planes.empty())
      return std::any_of(square.begin(), square.end(), [&](Point2 v) { return look_at(v); });
    for (const SeatPlane& p : planes) {
      Polygon piece = square;
      for (const SeatPlane& q : planes)
        if (&p != &q)
          piece = where_lower(piece, p, q);
      for (const Point2 v : piece)
        if (look_at(v))
          return true;
    }
    return false;
  }

  std::span<const Vec3> places_;
  std::set<std::pair<double, double>> seen_;
  double tolerance_ = 0;
};

double max_apart(const SeatPlane& p, const SeatPlane& q, const Footprint& f) {
  double most = 0;
  for (const double x : {f.low.x, f.high.x})
    for (const double y : {f.low.y, f.high.y})
      most = std::max(most, std::fabs(p.at({x, y}) - q.at({x, y})));
  return most;
}

bool touches(const SeatPlane& plane, const Vec3& p) {
  return p.z > plane.at({p.x, p.y}) - 1e-7;
}

// The two of these places that are farthest apart, or the only one.
std::vector<Vec3> ends_of(const std::vector<Vec3>& places, Point2 middle) {
  if (places.empty())
    return {};
  const auto farthest = [&](double x, double y) {
    return *std::max_element(places.begin(), places.end(), [&](const Vec3& p, const Vec3& q) {
      return maths::hypot(p.x - x, p.y - y) < maths::hypot(q.x - x, q.y - y);
    });
  };
  const Vec3 one = farthest(middle.x, middle.y), other = farthest(one.x, one.y);
  if (one == other)
    return {one};
  return {one, other};
}

} // namespace

std::optional<RestingTilts> resting_tilts(const BedMap& bed, const Footprint& on_bed) {
  const std::vector<Vec3> places = contact_places(bed, on_bed);
  if (places.empty())
    return std::nullopt;
  const Point2 c = on_bed.middle();
  const double diagonal = maths::hypot(on_bed.high.x - on_bed.low.x, on_bed.high.y - on_bed.low.y);
  RestingTilts out{Facets(places, c, kCentreKnown * diagonal).planes, false, {}};
  if (out.planes.empty())
    return std::nullopt;
  double most = 0;
  std::pair<const SeatPlane*, const SeatPlane*> farthest;
  for (const SeatPlane& p : out.planes)
    for (const SeatPlane& q : out.planes)
      if (const double apart = max_apart(p, q, on_bed); apart > most) {
        most = apart;
        farthest = {&p, &q};
      }
  out.rocks = most >= kTold_mm;
  if (!out.rocks)
    return out;
  std::vector<Vec3> always, by_two;
  for (const Vec3& p : places) {
    if (std::all_of(out.planes.begin(), out.planes.end(),
                    [&](const SeatPlane& plane) { return touches(plane, p); }))
      always.push_back(p);
    if (touches(*farthest.first, p) && touches(*farthest.second, p))
      by_two.push_back(p);
  }
  out.over = ends_of(always.empty() ? by_two : always, c);
  return out;
}

} // namespace leastwall
