#include "bed/seat/contact_places.h"

#include <optional>

namespace leastwall {

std::vector<Vec3> contact_places(const BedMap& bed, const Footprint& on_bed) {
  const Point2 low = on_bed.low, high = on_bed.high;
  std::vector<Vec3> places;
  const auto add = [&](double x, double y) {
    if (const std::optional<double> h = bed.height_mm(x, y))
      places.push_back({x, y, *h});
  };
  for (const Vec3& p : bed.points())
    if (p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y)
      places.push_back(p);
  for (const double x : {low.x, high.x})
    for (const double y : {low.y, high.y})
      add(x, y);
  for (const double x : bed.grid_x_mm())
    if (x > low.x && x < high.x)
      for (const double y : {low.y, high.y})
        add(x, y);
  for (const double y : bed.grid_y_mm())
    if (y > low.y && y < high.y)
      for (const double x : {low.x, high.x})
        add(x, y);
  for (const auto& [a, b] : bed.triangle_edges()) {
    for (const double x : {low.x, high.x})
      if ((a.x < x) != (b.x < x)) {
        const double y = a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y);
        if (y > low.y && y < high.y)
          add(x, y);
      }
    for (const double y : {low.y, high.y})
      if ((a.y < y) != (b.y < y)) {
        const double x = a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x);
        if (x > low.x && x < high.x)
          add(x, y);
      }
  }
  return places;
}

} // namespace leastwall
