#include "report/piece_on_bed.h"

#include "base/assumption.h"
#include "bed/bed_map.h"
#include "setup/place.h"
#include "setup/reading_places.h"

#include <vector>

namespace leastwall {

PieceOnBed piece_on_bed(const Setup& stated, const WallMap& skin) {
  Box box;
  for (const WallSample& s : skin.samples)
    box.add(s.at);
  const Setup setup = with_footprint_of(stated, box);
  std::vector<Assumption> ignored;
  PieceOnBed out;
  out.side_a = footprint_on_bed(setup, Side::a);
  out.side_b = footprint_on_bed(setup, Side::b);
  out.touch_a = bed_place(setup, Side::a, touch_point_of(setup, Side::a, ignored));
  out.touch_b = bed_place(setup, Side::b, touch_point_of(setup, Side::b, ignored));
  out.line = setup.flip.line;
  const Point2 on = bed_place(setup, Side::a, on_line(setup.flip, 0, 0));
  out.line_at_mm = setup.flip.line == FlipLine::along_y ? on.x : on.y;
  return out;
}

bool has_bed_map(const Setup& setup) {
  return setup.bed.readings && setup.bed.readings->points().size() >= 3;
}

} // namespace leastwall
