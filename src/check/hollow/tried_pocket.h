// The check of a pocket that is tried.
#pragma once

#include "base/run_context.h"
#include "check/check_job.h"
#include "check/memory_need.h"
#include "check/piece_input.h"
#include "hollow/ball_depths.h"
#include "report/hollow_report.h"

#include <optional>

namespace leastwall {

/// Of the bit that finishes the pocket, mm. Throws InputError where the job does not state it.
double ball_radius_of(const JobWithPocket& job);

/// Places of the bit over `box`, a quarter of the ball's radius apart or, on a large `what`
/// ("skin", "pocket"), so far that they are about a million. Throws InputError where that is too
/// coarse for the ball.
Lattice bit_lattice(const JobWithPocket& job, const Box& box, double ball_radius_mm,
                    const char* what);

/// Checks the job with that mesh for its pocket. `spacing_mm`: a first look at places so far apart,
/// between which a wall may be missed. Throws RunError when it needs more than `memory`; Cancelled.
JobResult check_with_pocket(const JobWithPocket& job, const TriMesh& pocket,
                            std::optional<double> spacing_mm, const MemoryLimit& memory,
                            const RunContext& run);

/// More margin after a try that does not hold, mm: what `wall` lacks at worst.
double more_margin(const WallReport& wall);

/// Why the check of the best pocket is not safe: what it says of `wall`, which lies in `outer`.
NoPocket not_safe(const CheckReport& best, const WallReport& wall, const TriMesh& outer);

} // namespace leastwall
