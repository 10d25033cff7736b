#include "bed/minimum_zone.h"

#include "base/errors.h"
#include "base/maths/extended.h"
#include "base/maths/hypot.h"
#include "bed/reading_plan.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>

namespace leastwall {
namespace {

using Real = maths::Extended;
using Matrix = Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic, 0, 4, 4>;
using Vector = Eigen::Matrix<Real, Eigen::Dynamic, 1, 0, 4, 1>;

/// Centred, scaled to about 1 in plan and height.
struct Scaled {
  Real u, v, w;
};

/// A point as a column of the dual programme: as part of the upper or the lower combination.
struct Column {
  std::size_t point;
  bool upper;
  bool operator==(const Column&) const = default;
};

/// The dual simplex of the header comment: rows are the plan axes (`axes` 0, 1 or 2), then the sum
/// of the upper and of the lower weights; the basis has as many columns.
class Dual {
 public:
  Dual(const std::vector<Scaled>& points, int axes) : points_(points), axes_(axes) {}

  void solve() {
    start();
    int stalled = 0;
    for (int step = 0; step < 10000; ++step) {
      prices();
      const bool careful = stalled > 60; // then the smallest index rule, which cannot cycle
      Column enter{0, true};
      if (!find_entering(careful, enter))
        return;
      stalled = exchange(enter, careful) > 0 ? 0 : stalled + 1;
    }
    throw RunError("flatness: the minimum zone did not settle; check the readings for extremes");
  }

  const std::vector<Column>& basis() const { return basis_; }
  const Vector& weights() const { return weights_; }
  const Vector& slopes_and_offsets() const { return prices_; }

 private:
  Vector column(Column c) const {
    const Scaled& p = points_[c.point];
    const Real sign = c.upper ? 1 : -1;
    Vector out = Vector::Zero(axes_ + 2);
    if (axes_ > 0)
      out(0) = sign * p.u;
    if (axes_ > 1)
      out(1) = sign * p.v;
    out(axes_ + (c.upper ? 0 : 1)) = 1;
    return out;
  }

  Real height(Column c) const { return c.upper ? points_[c.point].w : -points_[c.point].w; }

  /// One point as both combinations, and enough far-off points to make the basis regular.
  void start() {
    const auto far = [&](auto&& measure) {
      std::size_t best = 0;
      for (std::size_t i = 1; i < points_.size(); ++i)
        if (measure(points_[i]) > measure(points_[best]))
          best = i;
      return best;
    };
    basis_ = {{0, true}, {0, false}};
    if (axes_ > 0) {
      const Scaled o = points_[0];
      const std::size_t a = far([&](const Scaled& p) {
        const Real du = p.u - o.u, dv = axes_ > 1 ? Real(p.v - o.v) : Real(0);
        return Real(du * du + dv * dv);
      });
      basis_.push_back({a, true});
      if (axes_ > 1) {
        const Scaled q = points_[a];
        basis_.push_back({far([&](const Scaled& p) {
                            using std::fabs;
                            return fabs((q.u - o.u) * (p.v - o.v) - (q.v - o.v) * (p.u - o.u));
                          }),
                          true});
      }
    }
    factor();
  }

  void factor() {
    Matrix m(axes_ + 2, axes_ + 2);
    for (int k = 0; k < axes_ + 2; ++k)
      m.col(k) = column(basis_[static_cast<std::size_t>(k)]);
    inverse_ = m.fullPivLu().inverse();
    Vector right = Vector::Zero(axes_ + 2);
    right(axes_) = right(axes_ + 1) = 1;
    weights_ = (inverse_ * right).cwiseMax(Real(0));
  }

  void prices() {
    Vector cost(axes_ + 2);
    for (int k = 0; k < axes_ + 2; ++k)
      cost(k) = height(basis_[static_cast<std::size_t>(k)]);
    prices_ = inverse_.transpose() * cost;
  }

  bool find_entering(bool careful, Column& enter) const {
    const Real kEnough = 1e-14;
    Real best = kEnough;
    bool found = false;
    const Real a = axes_ > 0 ? prices_(0) : Real(0), b = axes_ > 1 ? prices_(1) : Real(0);
    const Real up = prices_(axes_), down = prices_(axes_ + 1);
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const Real r = points_[i].w - a * points_[i].u - b * points_[i].v;
      for (const bool upper : {true, false}) {
        const Real excess = upper ? r - up : -r - down;
        if (excess <= best)
          continue;
        enter = {i, upper};
        found = true;
        if (careful)
          return true;
        best = excess;
      }
    }
    return found;
  }

  /// Brings a column into the basis; returns the weight it gets.
  Real exchange(Column enter, bool careful) {
    const Vector d = inverse_ * column(enter);
    int leave = -1;
    Real step = 0;
    for (int k = 0; k < axes_ + 2; ++k) {
      if (d(k) <= 1e-12)
        continue;
      const Real ratio = weights_(k) / d(k);
      bool better = leave < 0 || ratio < step;
      if (!better && ratio == step)
        better = careful ? key(basis_[static_cast<std::size_t>(k)]) <
                               key(basis_[static_cast<std::size_t>(leave)])
                         : d(k) > d(leave);
      if (better) {
        leave = k;
        step = ratio;
      }
    }
    if (leave < 0)
      throw RunError("flatness: the readings are too ill-shaped for a minimum zone");
    basis_[static_cast<std::size_t>(leave)] = enter;
    factor();
    return step;
  }

  static std::size_t key(Column c) { return 2 * c.point + (c.upper ? 0 : 1); }

  const std::vector<Scaled>& points_;
  int axes_;
  std::vector<Column> basis_;
  Matrix inverse_;
  Vector weights_, prices_;
};

} // namespace

std::string MinimumZone::type() const {
  const auto up =
      std::count_if(contacts.begin(), contacts.end(), [](const ZoneContact& c) { return c.upper; });
  return std::to_string(up) + "-" + std::to_string(static_cast<long>(contacts.size()) - up);
}

MinimumZone minimum_zone(std::span<const Vec3> points) {
  if (points.empty())
    throw InputError("flatness: there are no readings");
  const ReadingPlan plan = reading_plan(points);
  const auto [low, high] = std::minmax_element(
      points.begin(), points.end(), [](const Vec3& a, const Vec3& b) { return a.z < b.z; });
  const double half = plan.extent > 0 ? plan.extent / 2 : 1.0;
  const double middle = (low->z + high->z) / 2;
  const double range = high->z > low->z ? high->z - low->z : 1.0;
  std::vector<Scaled> scaled;
  scaled.reserve(points.size());
  for (const Vec3& p : points) {
    const Real x = (Real(p.x) - plan.middle_x) / half, y = (Real(p.y) - plan.middle_y) / half;
    scaled.push_back(
        {plan.ex * x + plan.ey * y, plan.ex * y - plan.ey * x, (Real(p.z) - middle) / range});
  }
  Dual dual(scaled, plan.axes);
  dual.solve();

  MinimumZone zone;
  const Real along = plan.axes > 0 ? dual.slopes_and_offsets()(0) : Real(0);
  const Real across = plan.axes > 1 ? dual.slopes_and_offsets()(1) : Real(0);
  const Real to_mm = range / Real(half);
  zone.slope_x = static_cast<double>((along * plan.ex - across * plan.ey) * to_mm);
  zone.slope_y = static_cast<double>((along * plan.ey + across * plan.ex) * to_mm);
  Real top = 0, bottom = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Real r =
        Real(points[i].z) - Real(zone.slope_x) * points[i].x - Real(zone.slope_y) * points[i].y;
    top = i == 0 ? r : std::max(top, r);
    bottom = i == 0 ? r : std::min(bottom, r);
  }
  zone.upper_mm = static_cast<double>(top);
  zone.lower_mm = static_cast<double>(bottom);
  zone.vertical_mm = static_cast<double>(top - bottom);
  zone.normal_mm =
      zone.vertical_mm / std::sqrt(1 + zone.slope_x * zone.slope_x + zone.slope_y * zone.slope_y);
  for (const bool upper : {true, false})
    for (std::size_t k = 0; k < dual.basis().size(); ++k)
      if (dual.basis()[k].upper == upper)
        zone.contacts.push_back({points[dual.basis()[k].point], upper,
                                 static_cast<double>(dual.weights()(static_cast<long>(k)))});
  return zone;
}

bool contacts_prove(const MinimumZone& zone, std::span<const Vec3> points, double tolerance_mm) {
  const auto residual = [&](const Vec3& p) {
    return p.z - zone.slope_x * p.x - zone.slope_y * p.y;
  };
  double extent = 1;
  for (const Vec3& p : points) {
    const double r = residual(p);
    if (r > zone.upper_mm + tolerance_mm || r < zone.lower_mm - tolerance_mm)
      return false;
    extent = std::max({extent, std::fabs(p.x - points[0].x), std::fabs(p.y - points[0].y)});
  }
  std::array<double, 2> sum{};
  double meet_x = 0, meet_y = 0;
  for (const ZoneContact& c : zone.contacts) {
    const double plane = c.upper ? zone.upper_mm : zone.lower_mm;
    if (std::fabs(residual(c.at) - plane) > tolerance_mm || c.weight < 0)
      return false;
    sum[c.upper ? 0 : 1] += c.weight;
    meet_x += (c.upper ? c.weight : -c.weight) * (c.at.x - points[0].x);
    meet_y += (c.upper ? c.weight : -c.weight) * (c.at.y - points[0].y);
  }
  return std::fabs(sum[0] - 1) < 1e-9 && std::fabs(sum[1] - 1) < 1e-9 &&
         maths::hypot(meet_x, meet_y) <= tolerance_mm * extent;
}

} // namespace leastwall
