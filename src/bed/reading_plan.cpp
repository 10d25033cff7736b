#include "bed/reading_plan.h"

#include "base/maths/hypot.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

ReadingPlan reading_plan(std::span<const Vec3> points) {
  ReadingPlan plan;
  double low_x = points[0].x, high_x = low_x, low_y = points[0].y, high_y = low_y;
  for (const Vec3& p : points) {
    low_x = std::min(low_x, p.x);
    high_x = std::max(high_x, p.x);
    low_y = std::min(low_y, p.y);
    high_y = std::max(high_y, p.y);
  }
  plan.middle_x = (low_x + high_x) / 2;
  plan.middle_y = (low_y + high_y) / 2;
  plan.size_x = high_x - low_x;
  plan.size_y = high_y - low_y;
  plan.extent = std::max(plan.size_x, plan.size_y);
  if (!(plan.extent > 0))
    return plan;
  const auto farthest = [&](double x, double y) {
    return *std::max_element(points.begin(), points.end(), [&](const Vec3& a, const Vec3& b) {
      return maths::hypot(a.x - x, a.y - y) < maths::hypot(b.x - x, b.y - y);
    });
  };
  const Vec3 a = farthest(plan.middle_x, plan.middle_y), b = farthest(a.x, a.y);
  const double l = maths::hypot(b.x - a.x, b.y - a.y);
  const double ex = (b.x - a.x) / l, ey = (b.y - a.y) / l;
  double off = 0;
  for (const Vec3& p : points)
    off = std::max(off, std::fabs(ex * (p.y - a.y) - ey * (p.x - a.x)));
  plan.axes = off > 1e-6 * plan.extent ? 2 : 1;
  if (plan.axes == 1) {
    plan.ex = ex;
    plan.ey = ey;
  }
  return plan;
}

} // namespace leastwall
