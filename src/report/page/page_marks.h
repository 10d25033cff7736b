// What the page draws round the piece in its views of a side: board, dowels, touch point, flip
// line.
#pragma once

#include "report/json/json_values.h"
#include "setup/setup.h"
#include "space/box.h"
#include "wall/sampling/wall_map.h"

namespace leastwall {

/// "a" and "b", each as its map has it (report/maps/side_marks.h): "board" (absent where none was
/// stated) as low x, low y, high x, high y; "dowels"; "touch" (absent where no one can touch);
/// "flip", the ends of the line. Program coordinates of the side, mm, rounded to 0.0001 mm.
/// `part`: box of both meshes, model space.
Json page_marks(const Setup& setup, const Box& part, const WallMap& skin);

} // namespace leastwall
