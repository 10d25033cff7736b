#include "app/fit_memory.h"

#include "app/available_memory.h"
#include "geometry/fine_cells.h"
#include "wall/sample_spacing.h"

#include <cmath>

namespace leastwall {
namespace {

FineCellsOptions cells_wanted(const CheckInput& input) {
  MeasureOptions measure;
  measure.ceiling_mm = fine_ceiling_mm(input.budget.limit_mm, input.reach_mm);
  const RefineOptions spacing = sample_spacing(measure, input.skin.mesh);
  FineCellsOptions o;
  o.fine_spacing_mm = spacing.fine_spacing_mm;
  o.coarse_spacing_mm = spacing.coarse_spacing_mm;
  // Where an edge little longer than the spacing, asked for twice its length, is cut (refine.h).
  o.near_mm = std::sqrt(measure.ceiling_mm * measure.ceiling_mm +
                        3 * o.fine_spacing_mm * o.fine_spacing_mm);
  return o;
}

} // namespace

void require_memory_for(const CheckInput& input, CheckSize size,
                        std::optional<std::uint64_t> limit_bytes, const RunContext& run) {
  const TriMesh &pocket = input.pocket.mesh, &skin = input.skin.mesh;
  size.triangles = pocket.triangles.size() + skin.triangles.size();
  size.trial_bytes = input.trial_bytes;
  size.cells = skin.triangles.size() + static_cast<std::uint64_t>(3 * kMostFineCells);
  const auto limit = limit_bytes ? limit_bytes : available_memory_bytes();
  if (!limit || memory_need_bytes(size) <= *limit)
    return;
  size.cells = fine_cells(skin, pocket, cells_wanted(input), run);
  require_memory(size, limit_bytes);
}

} // namespace leastwall
