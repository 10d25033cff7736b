// Whether the holes of a job end where they are said to.
#pragma once

#include "base/notice.h"
#include "check/check_job.h"
#include "job/job.h"
#include "mesh/load/load_mesh.h"

#include <cstddef>
#include <string>
#include <vector>

namespace leastwall {

/// Throws InputError "FILE:LINE: ..." at a hole whose middle lies outside its part, that ends in
/// wood which side B takes away, or that is to come out and does not. `skin`: of the part, as
/// drawn; `top_z_mm`: of the pocket face.
void require_holes_in_part(const Job& job, std::size_t part, const LoadedMesh& skin,
                           double top_z_mm, const std::string& job_file);

/// hole-near-outline, unproven: a hole that comes out of the skin and has less than its limit
/// beside it, seen from above, to the outline of its part.
std::vector<Notice> outline_notices(const Job& job, std::size_t part, const LoadedMesh& skin);

/// hole-comes-out, a warning: the wood beside the mouth in the skin is not asked.
std::vector<Notice> hole_notices(const Job& job);

/// hole-near-pocket-face, unproven: a hole from the skin face that may leave less than its limit
/// under the pocket face when all errors of its set-up add up, on the board as it was measured and
/// the bed as it was read; on every board place of its part. `job.walls`: with boxes and set-ups.
std::vector<Notice> wood_under_holes(const Job& job, const JobInput& walls, double top_z_mm);

} // namespace leastwall
