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
#include <utility>
#include <vector>

namespace leastwall {
namespace {

constexpr int kPlaces = 8, kHeights = 2, kTurns = 8, kSlopes = 4;
constexpr std::size_t kThinnestRead = 32;

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
  // Spread through the box, where the bed and the board are highest and lowest, and where their
  // readings together thin and thicken a level wall most: peaks of both sides and of the board may
  // meet at one place.
  std::vector<Point2> places = extreme_reading_places(setup), read = reading_places(setup);
  const auto outside = [&box](Point2 p) {
    return p.x < box.low.x || p.x > box.high.x || p.y < box.low.y || p.y > box.high.y;
  };
  std::erase_if(places, outside);
  std::erase_if(read, outside);
  std::vector<std::pair<double, std::size_t>> thinner, thicker;
  for (std::size_t i = 0; i < read.size(); ++i) {
    effects_at(causes, {{read[i].x, read[i].y, box.low.z}, {0, 0, -1}, 0}, effects);
    const Effect sum = sum_of(effects);
    thinner.emplace_back(sum.shift - sum.half_width, i);
    thicker.emplace_back(-sum.shift, i);
  }
  for (auto* order : {&thinner, &thicker}) {
    std::ranges::sort(*order);
    for (std::size_t k = 0; k < std::min(kThinnestRead, order->size()); ++k)
      places.push_back(read[(*order)[k].second]);
  }
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
