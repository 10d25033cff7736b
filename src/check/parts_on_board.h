// Whether the parts of a job have room beside one another.
#pragma once

#include "check/check_job.h"

#include <string>

namespace leastwall {

/// Throws InputError "FILE:LINE: ..." at the later of two parts whose outlines, seen from above,
/// overlap or are nearer to each other than the cutter of side B is wide (twice the ball radius of
/// its finishing bit, where that is stated): cutting one would cut into the other. Outlines are
/// those of the meshes, exact.
void require_parts_apart(const JobInput& job, const std::string& job_file);

/// Whether some of the mesh lies over or under the point, seen from above.
bool lies_under(const TriMesh& mesh, Point2 at);

} // namespace leastwall
