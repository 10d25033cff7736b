#include "wall/sampling/sample_spacing.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

double fine_ceiling_mm(double limit_mm, double max_thinning_mm) {
  return limit_mm + 1.25 * max_thinning_mm;
}

RefineOptions sample_spacing(const MeasureOptions& options, const TriMesh& skin) {
  double area = 0;
  for (const Tri& t : skin.triangles) {
    const Vec3 a = skin.vertices[t[0]];
    area += 0.5 * length(cross(skin.vertices[t[1]] - a, skin.vertices[t[2]] - a));
  }
  const double diagonal = length(skin.box().size());
  RefineOptions r;
  r.ceiling_mm = options.ceiling_mm;
  r.fine_spacing_mm = options.fine_spacing_mm > 0
                          ? options.fine_spacing_mm
                          : std::max({diagonal / 1000, options.ceiling_mm / 6,
                                      // splitting leaves edges of about 0.7 of the spacing
                                      std::sqrt(area / (0.2 * kMaxFineCells))});
  r.coarse_spacing_mm = options.coarse_spacing_mm > 0
                            ? options.coarse_spacing_mm
                            : std::max(4 * r.fine_spacing_mm, diagonal / 100);
  return r;
}

} // namespace leastwall
