#include "check/fit_memory.h"

#include "base/sum_of_blocks.h"
#include "mesh/facet_area.h"
#include "spatial/closest_surface.h"
#include "spatial/fine_cells.h"
#include "wall/sampling/measure_bounds.h"
#include "wall/sampling/sample_spacing.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace leastwall {
namespace {

/// The least wall is no larger than this: the distances of the skin's corners.
double least_at_corners(const TriMesh& skin, const TriMesh& pocket, const RunContext& run) {
  const ClosestSurface near_to(pocket);
  return sum_of_blocks(
      skin.vertices.size(), 4096, run, 1e300,
      [&](std::size_t begin, std::size_t end) {
        double least = 1e300;
        for (std::size_t i = begin; i < end; ++i)
          least = std::min(least, near_to.nearest(skin.vertices[i]).distance);
        return least;
      },
      [](double& least, double part) { least = std::min(least, part); });
}

/// All that measuring may cut a skin into.
std::uint64_t max_cells(const TriMesh& skin) {
  return max_skin_cells(skin.triangles.size());
}

/// That the pocket is cut into beyond its facets: coarsely, by its area.
std::uint64_t pocket_cells(const TriMesh& pocket, const RefineOptions& skin_spacing) {
  const double coarse = std::max(skin_spacing.coarse_spacing_mm,
                                 sample_spacing(MeasureOptions(), pocket).coarse_spacing_mm);
  double cells = 0;
  for (const Tri& t : pocket.triangles) {
    const double area = facet_area(pocket, t);
    cells += std::max(0.0, kCellsOfSquare * area / (coarse * coarse) - 1);
  }
  return std::min(static_cast<std::uint64_t>(std::min(cells, 1e9)),
                  std::uint64_t{max_pocket_cells(0)});
}

FineCellsOptions cells_wanted(const TriMesh& skin, double ceiling_mm) {
  MeasureOptions measure;
  measure.ceiling_mm = ceiling_mm;
  const RefineOptions spacing = sample_spacing(measure, skin);
  FineCellsOptions o;
  o.fine_spacing_mm = spacing.fine_spacing_mm;
  o.coarse_spacing_mm = spacing.coarse_spacing_mm;
  o.most = static_cast<double>(max_cells(skin));
  // Where an edge little longer than the spacing, asked for twice its length, is cut (refine.h).
  o.near_mm = std::sqrt(measure.ceiling_mm * measure.ceiling_mm +
                        3 * o.fine_spacing_mm * o.fine_spacing_mm);
  return o;
}

/// One wall of the job, with its meshes.
struct Measured {
  const TriMesh &pocket, &skin;
  const CheckInput& input;
};

/// The cells of a wall as it will be measured: first under the limit, then about the least wall.
std::uint64_t cells_of(const Measured& wall, const RunContext& run) {
  const TriMesh &pocket = wall.pocket, &skin = wall.skin;
  const double limit_mm = wall.input.budget.limit_mm, reach = wall.input.reach.thinner_mm;
  const double least = least_at_corners(skin, pocket, run) + wall.input.reach.thicker_mm;
  std::uint64_t cells =
      fine_cells(skin, pocket, cells_wanted(skin, fine_ceiling_mm(limit_mm, reach)), run);
  if (least > limit_mm)
    cells = std::max(
        cells, fine_cells(skin, pocket, cells_wanted(skin, fine_ceiling_mm(least, reach)), run));
  MeasureOptions measure;
  measure.ceiling_mm = fine_ceiling_mm(limit_mm, reach);
  return cells + pocket_cells(pocket, sample_spacing(measure, skin));
}

/// Over all walls of the job; those that are measured once are kept once for each.
template <class Cells> std::uint64_t cells_of_all(const JobInput& job, const Cells& cells) {
  std::vector<std::uint64_t> of_wall(job.walls.size(), 0);
  std::uint64_t sum = 0;
  for (std::size_t w = 0; w < job.walls.size(); ++w) {
    const WallInput& wall = job.walls[w];
    of_wall[w] = wall.same_as ? of_wall[*wall.same_as]
                              : cells(Measured{job.meshes[wall.pocket_mesh].mesh,
                                               job.meshes[wall.skin_mesh].mesh, wall.input});
    sum += of_wall[w];
  }
  return sum;
}

} // namespace

void require_memory_for(const JobInput& job, CheckSize size, const MemoryLimit& allowed,
                        const RunContext& run) {
  size.triangles = 0;
  for (const LoadedMesh& mesh : job.meshes)
    size.triangles += mesh.mesh.triangles.size();
  size.trial_bytes = 0;
  for (const WallInput& wall : job.walls)
    size.trial_bytes = std::max(size.trial_bytes, wall.input.trial_bytes);
  if (!job.one_wall()) // how large each may be is asked of all walls at once
    size.trial_bytes *= job.walls.size();
  size.cells = cells_of_all(
      job, [](const Measured& wall) { return max_cells(wall.skin) + max_pocket_cells(0); });
  const auto limit = allowed.bytes();
  if (!limit || memory_need_bytes(size) <= *limit)
    return;
  size.cells = cells_of_all(job, [&run](const Measured& wall) { return cells_of(wall, run); });
  require_memory(size, allowed);
}

} // namespace leastwall
