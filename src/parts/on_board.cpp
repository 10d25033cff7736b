#include "parts/on_board.h"

#include "job/quarter_turn.h"

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

Box OnBoard::box_of(const TriMesh& mesh) const {
  if (!moves_)
    return mesh.box();
  Box out;
  for (const Vec3& v : mesh.vertices)
    out.add(place(v));
  return out;
}

} // namespace leastwall
