// Where the numbered labels of thin places stand: in two columns at the sides of the map, each
// joined to its place by a straight leader line.
#pragma once

#include "report/draw/picture.h"

#include <vector>

namespace leastwall {

struct CalloutFrame {
  double left_x = 0, right_x = 0; ///< inner edges of the two columns, px
  double top = 0, bottom = 0;     ///< room for the labels, px
  double pitch = 50;              ///< least distance from label middle to label middle, px
};

struct Callout {
  bool left = true;
  double y = 0; ///< middle of the label, px
};

/// One callout a place, in the same order: at the nearer side while there is room, spread so that
/// no two labels overlap and no two leaders of a column cross. At most twice as many places as fit
/// one column (`(bottom - top) / pitch`) are placed; the result is shorter when there are more.
std::vector<Callout> place_callouts(const std::vector<PicturePoint>& places,
                                    const CalloutFrame& frame);

} // namespace leastwall
