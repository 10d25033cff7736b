// The signed wall at single points: distance to the other surface and the side it lies on.
#pragma once

#include "field/distance_field.h"
#include "spatial/closest_surface.h"
#include "wall/inside/side_classifier.h"
#include "wall/sampling/wall_map.h"

namespace leastwall {

/// Measures points of one surface ("here") against the other ("there"). Safe from many threads.
class WallProbe {
 public:
  /// `there`: machined facets of the other surface; `side`: sides of that whole mesh.
  /// `here_is_skin` orients n from the pocket to the skin.
  WallProbe(const ClosestSurface& there, const SideClassifier& side, bool here_is_skin)
      : there_(there), side_(side), here_is_skin_(here_is_skin) {}

  struct Reading {
    WallSample sample;
    std::uint32_t triangle = 0; ///< nearest facet of the other surface (or one to start from)
  };
  /// `normal_here`: facet normal at p (any length, either direction), used for n where the wall is
  /// zero.
  /// With a guide set, a wall that certainly is over `beyond_mm` is not measured: the reading is
  /// then a wall that is certainly there (at least beyond_mm), with no facet of the other surface.
  /// `beside` is an earlier reading near p: where p lies within the free ball about it, p is on the
  /// same side, and no one need be asked.
  Reading read(Vec3 p, Vec3 normal_here, std::optional<std::uint32_t> hint,
               const WallSample* beside = nullptr) const;

  void set_guide(const DistanceField* guide, double beyond_mm) {
    guide_ = guide;
    beyond_mm_ = beyond_mm;
  }
  bool in_air(Vec3 p) const { return side_.in_air(p); }
  const ClosestSurface& there() const { return there_; }
  bool here_is_skin() const { return here_is_skin_; }

 private:
  const ClosestSurface& there_;
  const SideClassifier& side_;
  bool here_is_skin_;
  const DistanceField* guide_ = nullptr;
  double beyond_mm_ = 0;
};

} // namespace leastwall
