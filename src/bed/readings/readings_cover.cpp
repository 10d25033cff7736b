#include "bed/readings/readings_cover.h"

#include "space/box.h"

#include <cmath>
#include <fmt/format.h>
#include <functional>
#include <vector>

namespace leastwall {
namespace {

constexpr double kSmall_mm = 60;

// What of a convex outline (or a line, or a point) has depth >= 0 (Sutherland and Hodgman 1974).
std::vector<Vec3> kept(const std::vector<Vec3>& outline,
                       const std::function<double(const Vec3&)>& depth) {
  std::vector<Vec3> out;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec3 &a = outline[i], &b = outline[(i + 1) % outline.size()];
    const double at_a = depth(a), at_b = depth(b);
    if (at_a >= 0)
      out.push_back(a);
    if ((at_a < 0 && at_b > 0) || (at_a > 0 && at_b < 0))
      out.push_back(a + (at_a / (at_a - at_b)) * (b - a));
  }
  return out;
}

} // namespace

std::optional<double> covered_part(const BedMap& readings, const Footprint& f) {
  std::vector<Vec3> outline = readings.outline();
  outline = kept(outline, [&](const Vec3& p) { return p.x - f.low.x; });
  outline = kept(outline, [&](const Vec3& p) { return f.high.x - p.x; });
  outline = kept(outline, [&](const Vec3& p) { return p.y - f.low.y; });
  outline = kept(outline, [&](const Vec3& p) { return f.high.y - p.y; });
  if (outline.empty())
    return std::nullopt;
  double twice = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec3 &a = outline[i], &b = outline[(i + 1) % outline.size()];
    twice += (a.x - f.low.x) * (b.y - f.low.y) - (b.x - f.low.x) * (a.y - f.low.y);
  }
  return std::fabs(twice) / 2 / ((f.high.x - f.low.x) * (f.high.y - f.low.y));
}

std::optional<Notice> doubt_small_area(const BedMap& readings, std::string_view how) {
  Box box;
  for (const Vec3& p : readings.points())
    box.add(p);
  const Vec3 size = box.size();
  if (readings.points().size() < 3 || size.x > kSmall_mm || size.y > kSmall_mm)
    return std::nullopt;
  return Notice{"small-area", fmt::format("The readings lie within {:.4g} by {:.4g} mm. If their "
                                          "places are inches, {}.",
                                          size.x, size.y, how)};
}

} // namespace leastwall
