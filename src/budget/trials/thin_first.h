// The samples of a wall, thinnest first: what errors do to a piece is decided by few of them.
#pragma once

#include "causes/model/change_bound.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <vector>

namespace leastwall {

class ThinFirst {
 public:
  /// Refers to `samples`; at least one.
  explicit ThinFirst(std::span<const WallSample> samples);

  std::span<const WallSample> all() const { return all_; }
  const Places& places() const { return places_; } ///< of all of them

  /// Some of the thinnest, among them all that are thinner than `first_to_mm`; every one of a small
  /// piece.
  std::span<const WallSample> first() const { return few() ? all_ : std::span(first_); }
  double first_to_mm() const { return first_to_mm_; }
  bool few() const { return first_.empty(); } ///< the first are all

  /// Those thinner than this, in their order.
  std::vector<WallSample> under(double wall_mm) const;

 private:
  std::span<const WallSample> all_;
  Places places_;
  std::vector<WallSample> first_;
  double first_to_mm_ = 0;
};

} // namespace leastwall
