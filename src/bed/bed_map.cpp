#include "bed/bed_map.h"

#include "base/errors.h"
#include "base/maths/hypot.h"
#include "bed/triangulation.h"
#include "space/box.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

namespace leastwall {
namespace {

constexpr double kSamePlace = 1e-7; // of the extent
constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

double cross_xy(const Vec3& o, const Vec3& a, const Vec3& b) {
  return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

bool before(const Vec3& a, const Vec3& b) {
  return a.y != b.y ? a.y < b.y : a.x < b.x;
}

double extent_of(std::span<const Vec3> points) {
  Box box;
  for (const Vec3& p : points)
    box.add(p);
  return std::max(box.size().x, box.size().y);
}

void require_finite(std::span<const Vec3> readings) {
  if (readings.empty())
    throw InputError("bed readings: there are none");
  for (const Vec3& p : readings)
    if (!is_finite(p))
      throw InputError("bed readings: a place or height is not a finite number");
}

/// Nearest point of the segment a b to (x, y), as the fraction along it and the distance.
struct Foot {
  double along, distance;
};
Foot foot_on(const Vec3& a, const Vec3& b, double x, double y) {
  const double dx = b.x - a.x, dy = b.y - a.y, l2 = dx * dx + dy * dy;
  const double s = l2 > 0 ? std::clamp(((x - a.x) * dx + (y - a.y) * dy) / l2, 0.0, 1.0) : 0.0;
  return {s, maths::hypot(x - a.x - s * dx, y - a.y - s * dy)};
}

/// Convex hull by Andrew's monotone chain (1979), counter-clockwise; the two ends for points that
/// lie within `tolerance` of one line.
std::vector<Vec3> hull_of(std::vector<Vec3> p, double tolerance) {
  std::sort(p.begin(), p.end(), before);
  std::vector<Vec3> hull;
  const auto chain = [&](const auto& begin, const auto& end) {
    const std::size_t base = hull.size();
    for (auto it = begin; it != end; ++it) {
      while (hull.size() >= base + 2 && cross_xy(hull[hull.size() - 2], hull.back(), *it) <= 0)
        hull.pop_back();
      hull.push_back(*it);
    }
    if (hull.size() > 1)
      hull.pop_back();
  };
  if (p.size() > 1) {
    chain(p.begin(), p.end());
    chain(p.rbegin(), p.rend());
  } else {
    hull = p;
  }
  if (hull.size() < 3)
    return hull;
  std::size_t from = 0, to = 0;
  double longest = -1;
  for (std::size_t i = 0; i < hull.size(); ++i) // rotating calipers are not worth it here
    for (std::size_t j = i + 1; j < hull.size(); ++j)
      if (const double l = maths::hypot(hull[i].x - hull[j].x, hull[i].y - hull[j].y);
          l > longest) {
        longest = l;
        from = i;
        to = j;
      }
  for (const Vec3& q : hull)
    if (std::fabs(cross_xy(hull[from], hull[to], q)) > tolerance * longest)
      return hull;
  return {hull[from], hull[to]};
}

/// Groups sorted values into rows; a row is as high as the first value that fell into it.
std::vector<double> rows_of(std::vector<double> v, double same_place) {
  std::sort(v.begin(), v.end());
  std::vector<double> rows;
  for (double x : v)
    if (rows.empty() || x - rows.back() > same_place)
      rows.push_back(x);
  return rows;
}

std::size_t row_for(const std::vector<double>& rows, double v) {
  const auto it = std::upper_bound(rows.begin(), rows.end(), v);
  return static_cast<std::size_t>(it - rows.begin()) - 1;
}

} // namespace

BedMap BedMap::grid(std::vector<double> x_mm, std::vector<double> y_mm,
                    std::span<const std::optional<double>> heights_mm) {
  if (x_mm.empty() || y_mm.empty() || heights_mm.size() != x_mm.size() * y_mm.size())
    throw InputError("bed readings: the grid needs one height (or gap) for each of its crossings");
  for (const auto* v : {&x_mm, &y_mm})
    for (std::size_t i = 0; i < v->size(); ++i)
      if (!std::isfinite((*v)[i]) || (i > 0 && !((*v)[i] > (*v)[i - 1])))
        throw InputError("bed readings: the columns and rows of the grid must rise");
  BedMap map;
  map.grid_heights_.reserve(heights_mm.size());
  for (std::size_t k = 0; k < heights_mm.size(); ++k) {
    const Vec3 p{x_mm[k % x_mm.size()], y_mm[k / x_mm.size()], heights_mm[k].value_or(kMissing)};
    if (heights_mm[k]) {
      if (!std::isfinite(p.z))
        throw InputError("bed readings: a height is not a finite number");
      map.grid_points_.push_back(static_cast<std::uint32_t>(map.points_.size()));
      map.points_.push_back(p);
    } else {
      map.grid_points_.push_back(0);
      ++map.missing_;
    }
    map.grid_heights_.push_back(p.z);
  }
  if (map.points_.empty())
    throw InputError("bed readings: the grid has no height at all");
  map.x_ = std::move(x_mm);
  map.y_ = std::move(y_mm);
  map.finish();
  return map;
}

BedMap BedMap::scattered(std::span<const Vec3> readings) {
  require_finite(readings);
  BedMap map;
  std::vector<Vec3> sorted(readings.begin(), readings.end());
  const double same = kSamePlace * extent_of(sorted);
  // Equal places: sort by snapped place so that near ones stand next to each other, then average.
  const auto step = [&](double v) { return same > 0 ? std::round(v / same) : 0.0; };
  std::stable_sort(sorted.begin(), sorted.end(), [&](const Vec3& a, const Vec3& b) {
    return step(a.y) != step(b.y) ? step(a.y) < step(b.y) : step(a.x) < step(b.x);
  });
  for (std::size_t i = 0; i < sorted.size();) {
    std::size_t n = 1;
    Vec3 sum = sorted[i];
    while (i + n < sorted.size() && step(sorted[i + n].x) == step(sorted[i].x) &&
           step(sorted[i + n].y) == step(sorted[i].y))
      sum += sorted[i + n++];
    map.points_.push_back({sorted[i].x, sorted[i].y, sum.z / static_cast<double>(n)});
    i += n;
  }
  map.finish();
  return map;
}

BedMap BedMap::from_readings(std::span<const Vec3> readings, double same_place_mm) {
  require_finite(readings);
  std::vector<double> xs, ys;
  for (const Vec3& p : readings) {
    xs.push_back(p.x);
    ys.push_back(p.y);
  }
  xs = rows_of(std::move(xs), same_place_mm);
  ys = rows_of(std::move(ys), same_place_mm);
  if (xs.size() < 2 || ys.size() < 2 || readings.size() * 2 < xs.size() * ys.size())
    return scattered(readings);
  std::vector<std::optional<double>> heights(xs.size() * ys.size());
  for (const Vec3& p : readings) {
    auto& slot = heights[row_for(ys, p.y) * xs.size() + row_for(xs, p.x)];
    if (slot)
      return scattered(readings);
    slot = p.z;
  }
  return grid(std::move(xs), std::move(ys), heights);
}

void BedMap::finish() {
  for (std::size_t i = 0; i < points_.size(); ++i) {
    if (points_[i].z < points_[lowest_].z)
      lowest_ = i;
    if (points_[i].z > points_[highest_].z)
      highest_ = i;
  }
  outline_ = hull_of(points_, 10 * kSamePlace * extent_of(points_));
  const bool full_grid = missing_ == 0 && x_.size() >= 2 && y_.size() >= 2;
  if (outline_.size() >= 3 && !full_grid)
    triangles_ = std::make_shared<const Triangulation>(points_);
  if (outline_.size() >= 3)
    return;
  for (std::uint32_t i = 0; i < points_.size(); ++i)
    line_.push_back(
        {foot_on(outline_.front(), outline_.back(), points_[i].x, points_[i].y).along, i});
  std::ranges::sort(line_);
  line_.erase(std::unique(line_.begin(), line_.end(),
                          [](const auto& a, const auto& b) { return a.first == b.first; }),
              line_.end());
}

std::optional<BedMap::OnLine> BedMap::on_line(double x, double y) const {
  const Vec3 a = outline_.front(), b = outline_.back();
  const double l = maths::hypot(b.x - a.x, b.y - a.y), near_by = std::max(1e-6, 1e-6 * l);
  const Foot here = foot_on(a, b, x, y);
  if (here.distance > near_by)
    return std::nullopt;
  // The first that is not below it; the ends stand for what lies a hair beyond them.
  auto upper =
      std::ranges::lower_bound(line_, here.along, {}, &std::pair<double, std::uint32_t>::first);
  if (upper == line_.end())
    --upper;
  auto lower = upper;
  if (upper->first > here.along && upper != line_.begin())
    --lower;
  const double way = upper->first - lower->first;
  return OnLine{lower->second, upper->second, way > 0 ? (here.along - lower->first) / way : 0.0};
}

std::optional<double> BedMap::height_mm(double x, double y) const {
  if (!std::isfinite(x) || !std::isfinite(y))
    return std::nullopt;
  if (outline_.size() < 3) {
    const std::optional<OnLine> here = on_line(x, y);
    if (!here)
      return std::nullopt;
    const double z_below = points_[here->lower].z, z_above = points_[here->upper].z;
    return z_below + here->share * (z_above - z_below);
  }
  if (is_grid() && x_.size() >= 2 && y_.size() >= 2) {
    const double slack = 1e-9 * (x_.back() - x_.front() + y_.back() - y_.front());
    if (x < x_.front() - slack || x > x_.back() + slack || y < y_.front() - slack ||
        y > y_.back() + slack)
      return std::nullopt;
    const double cx = std::clamp(x, x_.front(), x_.back());
    const double cy = std::clamp(y, y_.front(), y_.back());
    const std::size_t i = std::min(row_for(x_, cx), x_.size() - 2);
    const std::size_t j = std::min(row_for(y_, cy), y_.size() - 2);
    const double s = (cx - x_[i]) / (x_[i + 1] - x_[i]), t = (cy - y_[j]) / (y_[j + 1] - y_[j]);
    const double* row = grid_heights_.data() + j * x_.size() + i;
    const double* next = row + x_.size();
    const double z =
        (1 - t) * ((1 - s) * row[0] + s * row[1]) + t * ((1 - s) * next[0] + s * next[1]);
    if (!std::isnan(z))
      return z;
  }
  return triangles_ ? triangles_->height(x, y) : std::nullopt;
}

std::size_t BedMap::weights_at(double x, double y, Weights& out) const {
  if (!std::isfinite(x) || !std::isfinite(y))
    return 0;
  std::size_t used = 0;
  const auto add = [&](std::size_t reading, double weight) {
    if (weight != 0)
      out[used++] = {static_cast<std::uint32_t>(reading), weight};
  };
  if (outline_.size() < 3) {
    const std::optional<OnLine> here = on_line(x, y);
    if (!here)
      return 0;
    add(here->lower, 1 - here->share);
    add(here->upper, here->share);
    return used;
  }
  if (is_grid() && x_.size() >= 2 && y_.size() >= 2) {
    const double slack = 1e-9 * (x_.back() - x_.front() + y_.back() - y_.front());
    if (x < x_.front() - slack || x > x_.back() + slack || y < y_.front() - slack ||
        y > y_.back() + slack)
      return 0;
    const double cx = std::clamp(x, x_.front(), x_.back());
    const double cy = std::clamp(y, y_.front(), y_.back());
    const std::size_t i = std::min(row_for(x_, cx), x_.size() - 2);
    const std::size_t j = std::min(row_for(y_, cy), y_.size() - 2);
    const double s = (cx - x_[i]) / (x_[i + 1] - x_[i]), t = (cy - y_[j]) / (y_[j + 1] - y_[j]);
    const std::size_t corner = j * x_.size() + i, next = corner + x_.size();
    const bool read = !std::isnan(grid_heights_[corner] + grid_heights_[corner + 1] +
                                  grid_heights_[next] + grid_heights_[next + 1]);
    if (read) {
      add(grid_points_[corner], (1 - t) * (1 - s));
      add(grid_points_[corner + 1], (1 - t) * s);
      add(grid_points_[next], t * (1 - s));
      add(grid_points_[next + 1], t * s);
      return used;
    }
  }
  if (!triangles_)
    return 0;
  const auto cover = triangles_->cover(x, y);
  if (!cover)
    return 0;
  add(cover->corners[0], 1 - cover->weight_1 - cover->weight_2);
  add(cover->corners[1], cover->weight_1);
  add(cover->corners[2], cover->weight_2);
  return used;
}

std::vector<std::array<Vec3, 2>> BedMap::triangle_edges() const {
  std::vector<std::array<Vec3, 2>> edges;
  if (!triangles_)
    return edges;
  // Both neighbours of an inner edge name it, in opposite directions; the outline's edges come
  // once.
  std::vector<std::array<std::uint32_t, 2>> ends;
  for (const std::array<std::uint32_t, 3>& t : triangles_->triangles())
    for (std::size_t i = 0; i < 3; ++i)
      ends.push_back({std::min(t[i], t[(i + 1) % 3]), std::max(t[i], t[(i + 1) % 3])});
  std::sort(ends.begin(), ends.end());
  ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
  for (const auto& [a, b] : ends)
    edges.push_back({points_[a], points_[b]});
  return edges;
}

double BedMap::distance_outside_mm(double x, double y) const {
  if (outline_.size() < 3)
    return foot_on(outline_.front(), outline_.back(), x, y).distance;
  bool inside = true;
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < outline_.size(); ++i) {
    const Vec3 &a = outline_[i], &b = outline_[(i + 1) % outline_.size()];
    inside = inside && cross_xy(a, b, {x, y, 0}) >= 0;
    nearest = std::min(nearest, foot_on(a, b, x, y).distance);
  }
  return inside ? 0.0 : nearest;
}

} // namespace leastwall
