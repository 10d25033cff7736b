#include "check/place_on_board.h"

#include "job/quarter_turn.h"

#include <utility>

namespace leastwall {

OnBoard::OnBoard(const BoardPlacing& placing)
    : mirror_(placing.mirrored ? -1 : 1), place_(placing.place),
      moves_(!(placing == BoardPlacing())) {
  const Turn turn = turn_by(placing.turn_deg);
  cosine_ = turn.cosine;
  sine_ = turn.sine;
}

Vec3 OnBoard::direction(Vec3 n) const {
  if (!moves_)
    return n;
  const double x = mirror_ * n.x;
  return {x * cosine_ - n.y * sine_, x * sine_ + n.y * cosine_, n.z};
}

Vec3 OnBoard::place(Vec3 p) const {
  return direction(p) + Vec3{place_.x, place_.y, 0};
}

Point2 OnBoard::back(Point2 on_board) const {
  const double x = on_board.x - place_.x, y = on_board.y - place_.y;
  return {mirror_ * (x * cosine_ + y * sine_), -x * sine_ + y * cosine_};
}

Box OnBoard::place(const Box& box) const {
  if (!moves_ || box.empty())
    return box;
  Box out;
  for (const double x : {box.low.x, box.high.x})
    for (const double y : {box.low.y, box.high.y})
      for (const double z : {box.low.z, box.high.z})
        out.add(place(Vec3{x, y, z}));
  return out;
}

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
}

} // namespace leastwall
