// Thin places: connected surface area whose wall is under a limit.
#pragma once

#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <span>
#include <vector>

namespace leastwall {

/// One thin place: a connected piece of the surface with `judged` under the limit, or the part of
/// it that belongs to one of its clear least places (least_places.h).
struct ThinRegion {
  std::uint32_t thinnest = 0; ///< sample with the least `shown` wall in the region
  double least_shown_mm = 0;  ///< that wall
  double least_judged_mm = 0; ///< least `judged` wall in the region
  double area_mm2 = 0;        ///< area with `judged` under the limit
  double area_shown_mm2 = 0;  ///< part of it with `shown` under the limit
};

/// Regions in order of their least shown wall (then judged wall, then sample number). The wall is
/// taken as linear in each cell. `judged` decides what belongs to a region (usually the worst
/// case), `shown` orders and describes it (usually the expected wall); both hold one value in mm
/// per sample of `map`. A place that only the other surface sees is a region too; areas are of what
/// this surface sees, so its area may be 0.
std::vector<ThinRegion> thin_regions(const WallMap& map, std::span<const double> judged,
                                     std::span<const double> shown, double limit_mm);

/// Area of the map with `values` under the limit, mm2.
double area_under(const WallMap& map, std::span<const double> values, double limit_mm);

} // namespace leastwall
