#include "job/place_mesh.h"

#include "job/quarter_turn.h"

#include <utility>

namespace leastwall {
namespace {

/// The mesh's `up` axis becomes z; the other two keep the hand of the frame.
Vec3 stood_up(Vec3 v, UpAxis up) {
  switch (up) {
  case UpAxis::plus_z:
    return v;
  case UpAxis::minus_z: // half a turn about x
    return {v.x, -v.y, -v.z};
  case UpAxis::plus_x: // about y
    return {-v.z, v.y, v.x};
  case UpAxis::minus_x:
    return {v.z, v.y, -v.x};
  case UpAxis::plus_y: // about x
    return {v.x, -v.z, v.y};
  case UpAxis::minus_y:
    return {v.x, v.z, -v.y};
  }
  return v;
}

} // namespace

void place_mesh(TriMesh& mesh, const MeshPlacing& placing) {
  const Turn turn = turn_by(placing.turn_deg);
  for (Vec3& v : mesh.vertices) {
    v = stood_up(v, placing.up);
    if (placing.mirror == Mirror::x)
      v.x = -v.x;
    else if (placing.mirror == Mirror::y)
      v.y = -v.y;
    v = {v.x * turn.cosine - v.y * turn.sine, v.x * turn.sine + v.y * turn.cosine, v.z};
    v += placing.shift_mm;
  }
  if (placing.mirror != Mirror::none)
    for (Tri& t : mesh.triangles)
      std::swap(t[1], t[2]);
}

} // namespace leastwall
