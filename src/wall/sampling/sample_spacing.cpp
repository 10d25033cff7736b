#include "wall/sampling/sample_spacing.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

double fine_ceiling_mm(double limit_mm, double max_thinning_mm) {
  return limit_mm + 1.25 * max_thinning_mm;
}

RefineOptions sample_spacing(const MeasureOptions& options, const TriMesh& skin) {
  const double diagonal = length(skin.box().size());
  RefineOptions r;
  r.ceiling_mm = options.ceiling_mm;
  r.fine_spacing_mm = options.fine_spacing_mm > 0
                          ? options.fine_spacing_mm
                          : std::max(diagonal / 1000, options.ceiling_mm / 6);
  if (!(options.fine_spacing_mm > 0))
    r.max_fine_cells = kMaxFineCells;
  r.flat_cells = options.smooth_errors;
  r.coarse_spacing_mm = options.coarse_spacing_mm;
  if (!(options.coarse_spacing_mm > 0))
    r.coarse_spacing_mm = std::max(4 * r.fine_spacing_mm, diagonal / 100);
  CellsToCut narrow;
  for (const Tri& t : skin.triangles)
    narrow.add({skin.vertices[t[0]], skin.vertices[t[1]], skin.vertices[t[2]]},
               r.coarse_spacing_mm);
  narrow.area_mm2 = 0;
  r.rung_spacing_mm = narrow.spacing_for(static_cast<double>(kMaxFineCells) / 4);
  // What is flat between the rungs is known all over where errors change smoothly.
  if (options.smooth_errors && !(options.coarse_spacing_mm > 0))
    r.coarse_spacing_mm = std::max(r.coarse_spacing_mm, r.rung_spacing_mm);
  return r;
}

} // namespace leastwall
