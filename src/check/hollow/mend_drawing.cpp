#include "check/hollow/mend_drawing.h"

#include "parts/on_board.h"
#include "report/section/mend_picture.h"

namespace leastwall {
namespace {

TriMesh on_board(TriMesh mesh, const BoardPlacing& placing) {
  const OnBoard place(placing);
  for (Vec3& v : mesh.vertices)
    v = place.place(v);
  return mesh;
}

MendPictureInput::Wall wall_of(const CheckResult& result) {
  return {result.wall, result.budget.expected_mm, result.budget.worst_mm};
}

} // namespace

std::string mend_drawing(const JobWithPocket& job, const Mended& mended, bool inch) {
  const JobInput input = job.with_pocket(job.meshes[job.mesh]);
  const WallInput& wall = input.walls[mended.wall];
  const TriMesh skin = on_board(input.meshes[wall.skin_mesh].mesh, wall.on_board),
                old_pocket = on_board(job.meshes[job.mesh].mesh, wall.on_board),
                new_pocket = on_board(mended.pocket, wall.on_board);
  return draw_mend_picture(
      {skin, old_pocket, new_pocket, mended.moved_mm, wall_of(mended.before.walls[mended.wall]),
       wall_of(mended.check.walls[mended.wall]), mended.report, mended.check.report.title},
      inch);
}

} // namespace leastwall
