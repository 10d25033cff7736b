#include "report/draw/label_places.h"

#include "base/maths/angles.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace leastwall {
namespace {

double common_area(const LabelBox& a, const LabelBox& b) {
  if (!a.overlaps(b))
    return 0;
  return (std::min(a.right, b.right) - std::max(a.left, b.left)) *
         (std::min(a.bottom, b.bottom) - std::max(a.top, b.top));
}

} // namespace

LabelBox LabelPlaces::place(PicturePoint at, double width, double height, double gap,
                            double first_deg) {
  LabelBox best{};
  double least = std::numeric_limits<double>::infinity();
  constexpr int kDirections = 16;
  for (const double reach : {1.0, 2.0, 3.5, 5.0, 7.0, 10.0, 14.0, 18.0})
    for (int i = 0; i < kDirections; ++i) {
      // The wanted direction first, then round the point, turn by turn to either side.
      const double turn = first_deg * std::numbers::pi / 180 + (i % 2 == 0 ? 1 : -1) *
                                                                   ((i + 1) / 2) * 2 *
                                                                   std::numbers::pi / kDirections;
      const double dx = maths::cos(turn), dy = maths::sin(turn);
      const double x = at.x + dx * (gap * reach + width / 2);
      const double y = at.y + dy * (gap * reach + height / 2);
      const LabelBox box{x - width / 2, y - height / 2, x + width / 2, y + height / 2};
      double cost = width * height - common_area(box, frame_);
      for (const LabelBox& taken : taken_)
        cost += common_area(box, taken);
      if (cost < least - 1e-9) {
        least = cost;
        best = box;
      }
      if (least <= 1e-9) {
        taken_.push_back(best);
        return best;
      }
    }
  taken_.push_back(best);
  return best;
}

} // namespace leastwall
