// Which part of space a surface passes near: a coarse grid of marked boxes.
#pragma once

#include "space/box.h"

#include <cstddef>
#include <vector>

namespace leastwall {

/// Marks boxes of space and tells which things may touch a marked one. Never misses; may name too
/// much by about one box edge. At most some 16 million boxes, one bit each.
class NearBoxes {
 public:
  /// Over `space`, with boxes about `edge_mm` wide, wider where there would be too many. What lies
  /// outside of `space` counts as in its outermost boxes.
  NearBoxes(const Box& space, double edge_mm);

  /// Marks every box that comes within `within_mm` of `what`.
  void mark(const Box& what, double within_mm);
  /// Does `what` touch a marked box?
  bool touches(const Box& what) const;

 private:
  struct Span {
    std::size_t low[3], high[3]; // both inclusive
  };
  Span span_of(const Box& what, double within_mm) const;
  static std::size_t boxes_of(const Span& span);

  Vec3 low_;
  double edge_ = 1;
  std::size_t count_[3] = {1, 1, 1};
  std::size_t marks_ = 0; ///< boxes written so far; after very many all are taken as marked
  std::vector<bool> marked_;
};

} // namespace leastwall
