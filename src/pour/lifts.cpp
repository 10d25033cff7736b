#include "pour/lifts.h"

#include "pour/volume_below.h"

#include <cmath>

namespace leastwall {

std::size_t lift_count(double depth_mm, double deepest_mm) {
  constexpr double kNothing_mm = 2e-5;
  if (!(depth_mm > kNothing_mm))
    return 0;
  const double count = std::ceil((depth_mm - kNothing_mm) / deepest_mm);
  return count < 1e9 ? static_cast<std::size_t>(count) : static_cast<std::size_t>(1e9);
}

std::vector<Lift> lifts_of(const WetSurface& wet, std::size_t count, const RunContext& run) {
  std::vector<Lift> out;
  const double depth = wet.face_z_mm - wet.deepest_z_mm;
  double below = 0, from = wet.deepest_z_mm;
  for (std::size_t i = 1; i <= count; ++i) {
    const double to =
        i == count ? wet.face_z_mm
                   : wet.deepest_z_mm + depth * static_cast<double>(i) / static_cast<double>(count);
    const double volume = volume_below(wet.mesh, to, run);
    out.push_back({from, to, volume - below, pools_below(wet.mesh, to)});
    below = volume;
    from = to;
  }
  return out;
}

} // namespace leastwall
