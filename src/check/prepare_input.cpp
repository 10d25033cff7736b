#include "check/prepare_input.h"

#include "base/errors.h"
#include "check/bed_under_piece.h"
#include "job/toml/job_error.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

/// A copy of one surface leaves no wall: it was taken for the other one by mistake.
void require_two_meshes(const JobInput& job) {
  for (const WallInput& wall : job.walls) {
    const TriMesh& pocket = job.meshes[wall.pocket_mesh].mesh;
    const TriMesh& skin = job.meshes[wall.skin_mesh].mesh;
    if (wall.drawn && pocket.vertices == skin.vertices && pocket.triangles == skin.triangles)
      throw InputError(fmt::format("{}: the pocket and the skin are the same mesh; the pocket is "
                                   "the inner surface, the skin the outer one",
                                   shown(wall.input.skin_file, 200)));
  }
}

} // namespace

void prepare_input(JobInput& job, const std::string& job_file,
                   std::optional<double> pad_reading_mm) {
  if (!job.one_wall() && pad_reading_mm)
    throw InputError("this job has several walls: leave --pad-reading out; the witness pad stands "
                     "for one wall");
  require_two_meshes(job);
  require_bed_under_piece(job, job_file, "bed.origin");
  fill_reach(job);
  if (pad_reading_mm) {
    std::optional<WitnessPad>& pad = job.walls.front().input.budget.pad;
    if (!pad)
      pad.emplace();
    pad->reading_mm = pad_reading_mm;
  }
}

} // namespace leastwall
