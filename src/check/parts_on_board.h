// Whether the parts of a job have room beside one another.
#pragma once

#include "check/check_job.h"

#include <optional>
#include <string>

namespace leastwall {

/// Throws InputError "FILE:LINE: ..." at the later of two parts whose outlines, seen from above,
/// overlap or are nearer to each other than the cutter of side B is wide (twice the ball radius of
/// its finishing bit, where that is stated): cutting one would cut into the other. Outlines are
/// those of the meshes, exact.
void require_parts_apart(const JobInput& job, const std::string& job_file);

/// Throws InputError at a part that reaches beyond the board, where the job states its corner and
/// size. For jobs with several walls; of a single pocket and its skin the report tells.
void require_parts_on_board(const JobInput& job, const std::string& job_file);

/// Throws InputError at a part that a dowel of the flip stands in, or its hole cuts into where its
/// diameter is stated; without one, of a single pocket and its skin the report tells.
void require_parts_off_dowels(const JobInput& job, const std::string& job_file);

/// Height of the lowest facet over the point, model z; absent beside the mesh, seen from above.
std::optional<double> lowest_over(const TriMesh& mesh, Point2 at);

} // namespace leastwall
