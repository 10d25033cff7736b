// Where short labels beside points go, so that none covers another.
#pragma once

#include "report/draw/picture.h"

#include <vector>

namespace leastwall {

struct LabelBox {
  double left = 0, top = 0, right = 0, bottom = 0;
  bool overlaps(const LabelBox& o) const {
    return left < o.right && o.left < right && top < o.bottom && o.top < bottom;
  }
};

class LabelPlaces {
 public:
  /// Labels stay inside `frame` where that can be.
  explicit LabelPlaces(const LabelBox& frame) : frame_(frame) {}

  const LabelBox& frame() const { return frame_; }
  void keep_clear(const LabelBox& box) { taken_.push_back(box); }

  /// A box of this size near `at`, `gap` away or more, clear of everything placed before; the one
  /// with the least overlap where none is clear. Tried first: right of the point turned by
  /// `first_deg` (90 is below, y runs down). It counts as taken from now on.
  LabelBox place(PicturePoint at, double width, double height, double gap, double first_deg = 0);

 private:
  LabelBox frame_;
  std::vector<LabelBox> taken_;
};

} // namespace leastwall
