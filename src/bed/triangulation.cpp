#include "bed/triangulation.h"

#include "base/maths/hypot.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace leastwall {
namespace {

__extension__ typedef __int128 Wide; // products of four snapped differences: 108 bits

constexpr double kSteps = 67108864.0; // 2^26 snapped steps over the extent
constexpr std::int32_t kInfinite = -1;

struct Place {
  std::int64_t x = 0, y = 0;
  bool operator==(const Place&) const = default;
};

/// Twice the signed area of a, b, c: positive when counter-clockwise.
std::int64_t turn(Place a, Place b, Place c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/// True when d lies strictly inside the circle through a, b, c (counter-clockwise).
bool in_circle(Place a, Place b, Place c, Place d) {
  const std::int64_t ax = a.x - d.x, ay = a.y - d.y, bx = b.x - d.x, by = b.y - d.y, cx = c.x - d.x,
                     cy = c.y - d.y;
  const Wide sum = Wide(ax * ax + ay * ay) * (bx * cy - by * cx) +
                   Wide(bx * bx + by * by) * (cx * ay - cy * ax) +
                   Wide(cx * cx + cy * cy) * (ax * by - ay * bx);
  return sum > 0;
}

std::uint64_t spread_bits(std::uint64_t v) {
  v = (v | (v << 16)) & 0x0000FFFF0000FFFFu;
  v = (v | (v << 8)) & 0x00FF00FF00FF00FFu;
  v = (v | (v << 4)) & 0x0F0F0F0F0F0F0F0Fu;
  v = (v | (v << 2)) & 0x3333333333333333u;
  return (v | (v << 1)) & 0x5555555555555555u;
}

/// Rounds of doubling size, each in order along a space-filling curve (Amenta, Choi, Rote 2003):
/// no input order makes the insertion slow.
std::vector<std::int32_t> insertion_order(const std::vector<Place>& places) {
  struct Key {
    int round;
    std::uint64_t curve;
    std::int32_t point;
  };
  std::vector<Key> keys(places.size());
  for (std::size_t i = 0; i < places.size(); ++i) {
    std::uint64_t h = (i + 1) * 0x9E3779B97F4A7C15u;
    h = (h ^ (h >> 32)) * 0xD6E8FEB86659FD93u;
    h ^= h >> 32;
    int round = 0;
    while (round < 20 && ((h >> round) & 1u) != 0)
      ++round;
    keys[i] = {-round,
               spread_bits(static_cast<std::uint64_t>(places[i].x)) |
                   (spread_bits(static_cast<std::uint64_t>(places[i].y)) << 1),
               static_cast<std::int32_t>(i)};
  }
  std::sort(keys.begin(), keys.end(), [](const Key& a, const Key& b) {
    if (a.round != b.round)
      return a.round < b.round;
    return a.curve != b.curve ? a.curve < b.curve : a.point < b.point;
  });
  std::vector<std::int32_t> order;
  order.reserve(keys.size());
  for (std::size_t i = 0; i < keys.size(); ++i) // the curve is one-to-one: equal places are close
    order.push_back(keys[i].point);
  return order;
}

class Builder {
 public:
  explicit Builder(const std::vector<Place>& places)
      : places_(places), first_at_(places.size() + 1) {
    for (std::int32_t p : insertion_order(places))
      offer(p);
  }

  std::vector<std::array<std::uint32_t, 3>> finite() const {
    std::vector<std::array<std::uint32_t, 3>> out;
    for (const Tri& t : tris_)
      if (t.alive && t.v[0] >= 0 && t.v[1] >= 0 && t.v[2] >= 0)
        out.push_back({static_cast<std::uint32_t>(t.v[0]), static_cast<std::uint32_t>(t.v[1]),
                       static_cast<std::uint32_t>(t.v[2])});
    return out;
  }

 private:
  struct Tri {
    std::array<std::int32_t, 3> v{}, n{}; // n[i] lies across the edge opposite v[i]
    bool alive = true, marked = false;
  };
  struct Edge {
    std::int32_t a, b, outer;
  };

  Place at(std::int32_t v) const { return places_[static_cast<std::size_t>(v)]; }
  Tri& tri(std::int32_t t) { return tris_[static_cast<std::size_t>(t)]; }

  static int infinite_corner(const Tri& t) {
    for (int i = 0; i < 3; ++i)
      if (t.v[static_cast<std::size_t>(i)] == kInfinite)
        return i;
    return -1;
  }

  /// Points wait until three of them span a triangle.
  void offer(std::int32_t p) {
    if (!tris_.empty()) {
      insert(p);
      return;
    }
    waiting_.push_back(p);
    if (waiting_.size() < 3)
      return;
    std::int32_t a = waiting_[0], b = waiting_[1];
    const std::int64_t side = turn(at(a), at(b), at(p));
    if (side == 0)
      return;
    if (side < 0)
      std::swap(a, b);
    tris_.push_back({{a, b, p}, {1, 2, 3}});
    tris_.push_back({{p, b, kInfinite}, {3, 2, 0}});
    tris_.push_back({{a, p, kInfinite}, {1, 3, 0}});
    tris_.push_back({{b, a, kInfinite}, {2, 1, 0}});
    for (std::size_t i = 2; i + 1 < waiting_.size(); ++i)
      insert(waiting_[i]);
  }

  bool conflicts(const Tri& t, Place p) const {
    const int k = infinite_corner(t);
    if (k < 0)
      return in_circle(at(t.v[0]), at(t.v[1]), at(t.v[2]), p);
    const Place a = at(t.v[static_cast<std::size_t>((k + 1) % 3)]);
    const Place b = at(t.v[static_cast<std::size_t>((k + 2) % 3)]);
    const std::int64_t side = turn(a, b, p);
    if (side != 0)
      return side > 0;
    return (p.x - a.x) * (p.x - b.x) + (p.y - a.y) * (p.y - b.y) < 0;
  }

  /// Walks to the triangle that covers p, or to the outer one across the edge p lies beyond.
  std::int32_t locate(Place p) {
    std::int32_t t = last_;
    if (const int k = infinite_corner(tri(t)); k >= 0)
      t = tri(t).n[static_cast<std::size_t>(k)];
    while (true) {
      const Tri& now = tri(t);
      if (infinite_corner(now) >= 0)
        return t;
      std::int32_t next = -1;
      for (std::size_t i = 0; i < 3 && next < 0; ++i)
        if (turn(at(now.v[(i + 1) % 3]), at(now.v[(i + 2) % 3]), p) < 0)
          next = now.n[i];
      if (next < 0)
        return t;
      t = next;
    }
  }

  void insert(std::int32_t p) {
    const Place place = at(p);
    const std::int32_t seed = locate(place);
    for (std::int32_t v : tri(seed).v)
      if (v >= 0 && at(v) == place)
        return; // this place has a point already
    cavity_.assign(1, seed);
    tri(seed).marked = true;
    rim_.clear();
    for (std::size_t c = 0; c < cavity_.size(); ++c) {
      const Tri now = tri(cavity_[c]);
      for (std::size_t i = 0; i < 3; ++i) {
        Tri& beyond = tri(now.n[i]);
        if (beyond.marked)
          continue;
        if (conflicts(beyond, place)) {
          beyond.marked = true;
          cavity_.push_back(now.n[i]);
        } else {
          rim_.push_back({now.v[(i + 1) % 3], now.v[(i + 2) % 3], now.n[i]});
        }
      }
    }
    for (std::int32_t t : cavity_)
      tri(t).alive = false;
    made_.clear();
    std::size_t reuse = 0;
    for (const Edge& e : rim_) {
      std::int32_t id;
      if (reuse < cavity_.size()) {
        id = cavity_[reuse++];
      } else {
        id = static_cast<std::int32_t>(tris_.size());
        tris_.emplace_back();
      }
      tri(id) = {{e.a, e.b, p}, {-1, -1, e.outer}};
      Tri& outer = tri(e.outer);
      for (std::size_t i = 0; i < 3; ++i)
        if (outer.v[(i + 1) % 3] == e.b && outer.v[(i + 2) % 3] == e.a)
          outer.n[i] = id;
      first_at_[static_cast<std::size_t>(e.a + 1)] = id;
      made_.push_back(id);
    }
    for (std::int32_t id : made_) {
      const std::int32_t next = first_at_[static_cast<std::size_t>(tri(id).v[1] + 1)];
      tri(id).n[0] = next;
      tri(next).n[1] = id;
    }
    last_ = made_.front();
  }

  const std::vector<Place>& places_;
  std::vector<Tri> tris_;
  std::vector<std::int32_t> waiting_, cavity_, made_, first_at_;
  std::vector<Edge> rim_;
  std::int32_t last_ = 0;
};

/// Signed distance of (x, y) from the line a to b, positive to its left.
double left_of(Vec3 a, Vec3 b, double x, double y) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  return (dx * (y - a.y) - dy * (x - a.x)) / maths::hypot(dx, dy);
}

} // namespace

Triangulation::Triangulation(std::span<const Vec3> points) : points_(points.begin(), points.end()) {
  if (points_.empty())
    return;
  double high_x = points_[0].x, high_y = points_[0].y;
  low_x_ = high_x;
  low_y_ = high_y;
  for (const Vec3& p : points_) {
    low_x_ = std::min(low_x_, p.x);
    low_y_ = std::min(low_y_, p.y);
    high_x = std::max(high_x, p.x);
    high_y = std::max(high_y, p.y);
  }
  const double extent = std::max(high_x - low_x_, high_y - low_y_);
  if (!(extent > 0))
    return;
  std::vector<Place> places;
  places.reserve(points_.size());
  for (const Vec3& p : points_)
    places.push_back({std::llround((p.x - low_x_) / extent * kSteps),
                      std::llround((p.y - low_y_) / extent * kSteps)});
  triangles_ = Builder(places).finite();
  tolerance_ = 8 * extent / kSteps;
  // Slivers thinner than the snapping cover nothing.
  std::erase_if(triangles_, [&](const std::array<std::uint32_t, 3>& t) {
    for (std::size_t i = 0; i < 3; ++i) {
      const Vec3& c = points_[t[i]];
      if (left_of(points_[t[(i + 1) % 3]], points_[t[(i + 2) % 3]], c.x, c.y) < tolerance_ / 4)
        return true;
    }
    return false;
  });
  const double across =
      std::max(1.0, std::floor(std::sqrt(static_cast<double>(triangles_.size()) / 2)));
  cell_ = extent / across;
  columns_ = static_cast<std::size_t>((high_x - low_x_) / cell_) + 1;
  rows_ = static_cast<std::size_t>((high_y - low_y_) / cell_) + 1;
  index();
}

void Triangulation::index() {
  first_.assign(columns_ * rows_ + 1, 0);
  const auto cell_of = [&](double v, double low, std::size_t n) {
    const double c = std::floor((v - low) / cell_);
    return static_cast<std::size_t>(std::clamp(c, 0.0, static_cast<double>(n - 1)));
  };
  const auto each_cell = [&](std::size_t t, const auto& visit) {
    const Vec3 &a = points_[triangles_[t][0]], &b = points_[triangles_[t][1]],
               &c = points_[triangles_[t][2]];
    const std::size_t i0 = cell_of(std::min({a.x, b.x, c.x}) - tolerance_, low_x_, columns_);
    const std::size_t i1 = cell_of(std::max({a.x, b.x, c.x}) + tolerance_, low_x_, columns_);
    const std::size_t j0 = cell_of(std::min({a.y, b.y, c.y}) - tolerance_, low_y_, rows_);
    const std::size_t j1 = cell_of(std::max({a.y, b.y, c.y}) + tolerance_, low_y_, rows_);
    for (std::size_t j = j0; j <= j1; ++j)
      for (std::size_t i = i0; i <= i1; ++i)
        visit(j * columns_ + i);
  };
  for (std::size_t t = 0; t < triangles_.size(); ++t)
    each_cell(t, [&](std::size_t c) { ++first_[c + 1]; });
  std::partial_sum(first_.begin(), first_.end(), first_.begin());
  listed_.resize(first_.back());
  std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
  for (std::size_t t = 0; t < triangles_.size(); ++t)
    each_cell(t, [&](std::size_t c) { listed_[next[c]++] = static_cast<std::uint32_t>(t); });
}

std::optional<double> Triangulation::height(double x, double y) const {
  const std::optional<Cover> at = cover(x, y);
  if (!at)
    return std::nullopt;
  const Vec3 &a = points_[at->corners[0]], &b = points_[at->corners[1]],
             &c = points_[at->corners[2]];
  return a.z + at->weight_1 * (b.z - a.z) + at->weight_2 * (c.z - a.z);
}

std::optional<Triangulation::Cover> Triangulation::cover(double x, double y) const {
  if (triangles_.empty() || !std::isfinite(x) || !std::isfinite(y))
    return std::nullopt;
  const double fx = (x - low_x_) / cell_, fy = (y - low_y_) / cell_;
  if (fx < -1 || fy < -1 || fx > static_cast<double>(columns_) || fy > static_cast<double>(rows_))
    return std::nullopt;
  const std::size_t i = std::min(columns_ - 1, static_cast<std::size_t>(std::max(0.0, fx)));
  const std::size_t j = std::min(rows_ - 1, static_cast<std::size_t>(std::max(0.0, fy)));
  double best = -tolerance_;
  std::optional<Cover> found;
  for (std::uint32_t k = first_[j * columns_ + i]; k < first_[j * columns_ + i + 1]; ++k) {
    const auto& t = triangles_[listed_[k]];
    const Vec3 &a = points_[t[0]], &b = points_[t[1]], &c = points_[t[2]];
    const double inside = std::min({left_of(a, b, x, y), left_of(b, c, x, y), left_of(c, a, x, y)});
    if (inside < best)
      continue;
    const double twice = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    const double wb = ((x - a.x) * (c.y - a.y) - (y - a.y) * (c.x - a.x)) / twice;
    const double wc = ((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x)) / twice;
    found = Cover{t, wb, wc};
    best = inside;
    if (inside >= 0)
      return found;
  }
  return found;
}

} // namespace leastwall
