#include "budget/effects/reach.h"

#include "base/assumption.h"
#include "base/maths/angles.h"
#include "budget/effects/spread.h"
#include "causes/causes.h"
#include "setup/place.h"
#include "setup/reading_places.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

namespace leastwall {
namespace {

constexpr int kPlaces = 8, kHeights = 2, kTurns = 8, kSlopes = 4;

} // namespace

Reach reach_of(const Setup& stated, const Box& box) {
  const Setup setup = with_footprint_of(stated, box);
  std::vector<Assumption> assumptions;
  const std::vector<Cause> causes = causes_of(setup, assumptions);
  std::vector<Effect> effects(causes.size());
  Reach reach;
  const auto look = [&](Vec3 at) {
    for (int slope = 0; slope <= kSlopes; ++slope)
      for (int turn = 0; turn < kTurns; ++turn) {
        const double a = slope * std::numbers::pi / 2 / kSlopes;
        const double b = turn * 2 * std::numbers::pi / kTurns;
        const Vec3 n{maths::sin(a) * maths::cos(b), maths::sin(a) * maths::sin(b), -maths::cos(a)};
        effects_at(causes, {at, n, 0}, effects);
        const Effect sum = sum_of(effects);
        reach.thinner_mm = std::max(reach.thinner_mm, sum.half_width - sum.shift);
        reach.thicker_mm = std::max(reach.thicker_mm, sum.shift);
      }
  };
  // Spread through the box, and where the bed and the board are highest and lowest.
  std::vector<Point2> places = extreme_reading_places(setup);
  std::erase_if(places, [&box](Point2 p) {
    return p.x < box.low.x || p.x > box.high.x || p.y < box.low.y || p.y > box.high.y;
  });
  const Vec3 size = box.size();
  for (int i = 0; i <= kPlaces; ++i)
    for (int j = 0; j <= kPlaces; ++j)
      places.push_back({box.low.x + size.x * i / kPlaces, box.low.y + size.y * j / kPlaces});
  for (const Point2 p : places)
    for (int k = 0; k <= kHeights; ++k)
      look({p.x, p.y, box.low.z + size.z * k / kHeights});
  return reach;
}

} // namespace leastwall
