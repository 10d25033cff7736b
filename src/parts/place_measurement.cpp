#include "parts/place_measurement.h"

#include <utility>

namespace leastwall {

void place_measurement(WallMeasurement& wall, const BoardPlacing& placing) {
  const OnBoard on_board(placing);
  if (!on_board.moves())
    return;
  for (WallMap* map : {&wall.skin, &wall.pocket}) {
    for (WallSample& s : map->samples) {
      s.at = on_board.place(s.at);
      s.n = on_board.direction(s.n);
    }
    if (placing.mirrored) // facets look the same way out
      for (Tri& cell : map->cells)
        std::swap(cell[1], cell[2]);
  }
  wall.least.skin = on_board.place(wall.least.skin);
  wall.least.pocket = on_board.place(wall.least.pocket);
  wall.least.n = on_board.direction(wall.least.n);
  wall.straight_down_mm = [on_board, in_part = wall.straight_down_mm](Vec3 p) {
    const Point2 at = on_board.back({p.x, p.y});
    return in_part({at.x, at.y, p.z});
  };
  // Lengths along the plane and heights are the same in either frame.
  wall.pocket_section = [on_board, in_part = wall.pocket_section](const SectionPlane& plane) {
    const Point2 at = on_board.back({plane.through.x, plane.through.y});
    const Point2 to = on_board.back({plane.through.x + plane.dx, plane.through.y + plane.dy});
    return in_part({{at.x, at.y, plane.through.z}, to.x - at.x, to.y - at.y});
  };
}

} // namespace leastwall
