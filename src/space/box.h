// Axis-aligned box in model space, millimetres.
#pragma once

#include "base/maths/hypot.h"
#include "space/vec3.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {

struct Box {
  Vec3 low{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity(),
           std::numeric_limits<double>::infinity()};
  Vec3 high{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity(),
            -std::numeric_limits<double>::infinity()};

  void add(Vec3 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  void add(const Box& b) {
    add(b.low);
    add(b.high);
  }
  bool empty() const { return low.x > high.x; }
  Vec3 size() const { return high - low; }
  Vec3 middle() const { return (low + high) * 0.5; }
  /// How far apart two boxes lie seen from above; 0 where they overlap.
  double plan_gap(const Box& b) const {
    return maths::hypot(std::max({low.x - b.high.x, b.low.x - high.x, 0.0}),
                        std::max({low.y - b.high.y, b.low.y - high.y, 0.0}));
  }
};

} // namespace leastwall
