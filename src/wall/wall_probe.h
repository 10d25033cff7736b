// The signed wall at single points: distance to the other surface and the side it lies on.
#pragma once

#include "field/distance_field.h"
#include "geometry/closest_surface.h"
#include "wall/air_rule.h"
#include "wall/wall_map.h"

#include <atomic>

namespace leastwall {

/// Measures points of one surface ("here") against the other ("there"). Safe from many threads.
class WallProbe {
 public:
  /// `there`: machined facets of the other surface; `air`: the air rule of that whole mesh.
  /// `here_is_skin` orients n from the pocket to the skin. Points above `sign_top_mm` are asked for
  /// their side just below it, where the pocket face does not confuse the answer.
  WallProbe(const ClosestSurface& there, const AirRule& air, bool here_is_skin, double sign_top_mm)
      : there_(there), air_(air), here_is_skin_(here_is_skin), sign_top_mm_(sign_top_mm) {}

  struct Reading {
    WallSample sample;
    std::uint32_t triangle = 0; ///< nearest facet of the other surface (or one to start from)
  };
  /// `normal_here`: facet normal at p (any length, either direction), used for n where the wall is
  /// zero.
  /// With a guide set, a wall that certainly is over `beyond_mm` is not measured: the reading is
  /// then a wall that is certainly there (at least beyond_mm), with no facet of the other surface.
  Reading read(Vec3 p, Vec3 normal_here, std::optional<std::uint32_t> hint) const;

  void set_guide(const DistanceField* guide, double beyond_mm) {
    guide_ = guide;
    beyond_mm_ = beyond_mm;
  }
  bool in_air(Vec3 p) const;
  std::size_t ambiguous_points() const { return ambiguous_; }
  const ClosestSurface& there() const { return there_; }
  bool here_is_skin() const { return here_is_skin_; }

 private:
  const ClosestSurface& there_;
  const AirRule& air_;
  bool here_is_skin_;
  double sign_top_mm_;
  const DistanceField* guide_ = nullptr;
  double beyond_mm_ = 0;
  mutable std::atomic<std::size_t> ambiguous_{0};
};

} // namespace leastwall
