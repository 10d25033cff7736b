// Board, flip line, dowels and touch point on a map of a side as seen at the machine.
#pragma once

#include "report/maps/heat_map_overlay.h"
#include "report/maps/side_marks.h"

namespace leastwall {

void draw_shop_marks(Picture& picture, const HeatMapLayout& at, const SideMarks& marks);

/// Two rows of the legend that say what the marks mean, from `top` on.
void draw_marks_legend(Picture& picture, const HeatMapLayout& at, const SideMarks& marks,
                       bool flip_stated, double top);

} // namespace leastwall
