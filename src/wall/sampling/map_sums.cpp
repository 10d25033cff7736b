#include "wall/sampling/map_sums.h"

#include "base/sum_of_blocks.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 1 << 14;
constexpr double kTouching_mm = 1e-6;

} // namespace

double area_of(const WallMap& map, bool only_in_air, const RunContext& run) {
  return sum_of_blocks(
      map.cells.size(), kGrain, run, 0.0,
      [&map, only_in_air](std::size_t begin, std::size_t end) {
        double sum = 0;
        for (std::size_t i = begin; i < end; ++i) {
          const Tri& c = map.cells[i];
          if (only_in_air && !std::all_of(c.begin(), c.end(), [&map](std::uint32_t k) {
                return map.samples[k].wall_mm < -kTouching_mm;
              }))
            continue;
          const Vec3 a = map.samples[c[0]].at;
          sum += 0.5 * length(cross(map.samples[c[1]].at - a, map.samples[c[2]].at - a));
        }
        return sum;
      },
      [](double& sum, double part) { sum += part; });
}

double thinnest_sample(const WallMap& map, const RunContext& run) {
  return sum_of_blocks(
      map.samples.size(), kGrain, run, 1e300,
      [&map](std::size_t begin, std::size_t end) {
        double t = 1e300;
        for (std::size_t i = begin; i < end; ++i)
          t = std::min(t, map.samples[i].wall_mm);
        return t;
      },
      [](double& least, double part) { least = std::min(least, part); });
}

} // namespace leastwall
