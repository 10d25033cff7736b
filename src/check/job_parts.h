// What the parts of a job come to together, apart from their walls: room on the board and the bed,
// and the seams of glued halves.
#pragma once

#include "base/notice.h"
#include "check/check_job.h"
#include "parts/parts_report.h"

#include <span>
#include <vector>

namespace leastwall {

/// Fills JobInput::halves: each part that mirrors another one, with the two glue-up dowels that
/// stand farthest apart. What cannot be worked out goes to JobInput::not_checked: without two such
/// dowels, or where the skin does not reach the pocket face. `walls`: of the job, in any order;
/// JobInput::walls and meshes are filled.
void find_halves(const Job& job, std::span<const JobWall> walls, double top_z_mm, JobInput& out);

/// Of a job whose meshes are still there. Throws InputError as causes_of does; Cancelled.
PartsReport parts_report(const JobInput& job, const RunContext& run);

/// part-off-bed, unproven: what is cut there has no support and was not read; board-off-bed, a
/// doubt.
std::vector<Notice> overhang_notices(const BoardRow& board);

} // namespace leastwall
