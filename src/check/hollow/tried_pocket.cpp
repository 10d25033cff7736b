#include "check/hollow/tried_pocket.h"

#include "base/errors.h"
#include "check/fit_memory.h"
#include "check/mouth_slopes.h"
#include "job/toml/job_error.h"
#include "mesh/inspect_mesh.h"
#include "report/words/verdict_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

constexpr double kStepsPerRadius = 4; // a scallop of R / 128 between two places
constexpr std::size_t kMostNodes = 1'000'000;
constexpr double kLeastMore_mm = 0.01;
constexpr double kNearFace_mm = 1;
constexpr double kRunsOut = 0.2; // of the skin's sides at the face: steeper ones end in no edge

} // namespace

double ball_radius_of(const JobWithPocket& job) {
  const Pocket& pocket = job.pocket();
  const std::optional<double> radius = pocket.side_a.bit.ball_radius_mm;
  if (!radius || !(*radius > 0))
    throw job_error(job.job_file, pocket.line,
                    "this needs to know the finishing bit of the pocket; state "
                    "side_a.bit.ball_radius");
  return *radius;
}

Lattice bit_lattice(const JobWithPocket& job, const Box& box, double ball_radius_mm,
                    const char* what) {
  const double step =
      std::max(ball_radius_mm / kStepsPerRadius,
               std::sqrt(box.size().x * box.size().y / static_cast<double>(kMostNodes)));
  const Lattice at = lattice_round(box, ball_radius_mm, step);
  if (step > ball_radius_mm / 2 || at.nx * at.ny > 2 * kMostNodes)
    throw InputError(
        fmt::format("{}: a ball of radius {:.3f} mm is too fine for a {} of {:.0f} by {:.0f} mm; "
                    "at least {:.3f} mm can be followed",
                    job.job_file, ball_radius_mm, what, box.size().x, box.size().y, 2 * step));
  return at;
}

JobResult check_with_pocket(const JobWithPocket& job, const TriMesh& pocket,
                            std::optional<double> spacing_mm, const MemoryLimit& memory,
                            const RunContext& run) {
  LoadedMesh loaded;
  loaded.mesh = pocket;
  loaded.findings = inspect_mesh(pocket);
  JobInput input = job.with_pocket(std::move(loaded));
  for (WallInput& wall : input.walls) {
    wall.input.budget.with_advice = wall.input.budget.with_allowed = false;
    if (spacing_mm)
      wall.input.fine_spacing_mm = *spacing_mm;
  }
  fill_reach(input);
  require_memory_for(input, {}, memory, run);
  return check_job(std::move(input), run);
}

double more_margin(const WallReport& wall) {
  return std::max(kLeastMore_mm, 1.1 * (wall.limit_mm - wall.least_wall.worst_mm));
}

NoPocket not_safe(const CheckReport& best, const WallReport& wall, const TriMesh& outer) {
  NoPocket out;
  out.headline = headline_line(best);
  out.finding = finding_text(best);
  out.expected_mm = wall.least_wall.expected_mm;
  out.worst_mm = wall.least_wall.worst_mm;
  out.at = wall.least_wall.at;
  out.at_face =
      best.top_z_mm - out.at.z < kNearFace_mm && mouth_slope(outer, best.top_z_mm) > kRunsOut;
  out.limit_mm = wall.limit_mm;
  return out;
}

} // namespace leastwall
