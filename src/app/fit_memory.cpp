#include "app/fit_memory.h"

#include "app/available_memory.h"
#include "geometry/fine_cells.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

/// About the number of cells that measure_wall's fine spacing aims at for the whole skin.
constexpr double kMostCells = 6e6;

FineCellsOptions spacing_of(const CheckInput& input) {
  const TriMesh& skin = input.skin.mesh;
  double area = 0;
  for (const Tri& t : skin.triangles) {
    const Vec3 a = skin.vertices[t[0]];
    area += 0.5 * length(cross(skin.vertices[t[1]] - a, skin.vertices[t[2]] - a));
  }
  const double diagonal = length(skin.box().size());
  const double ceiling = input.budget.limit_mm + 1.25 * input.reach_mm;
  FineCellsOptions o;
  o.fine_spacing_mm =
      std::max({diagonal / 1000, ceiling / 6, std::sqrt(area / (0.2 * kMostCells))});
  o.coarse_spacing_mm = std::max(4 * o.fine_spacing_mm, diagonal / 100);
  // Where an edge little longer than the spacing, asked for twice its length, is cut (refine.h).
  o.near_mm = std::sqrt(ceiling * ceiling + 3 * o.fine_spacing_mm * o.fine_spacing_mm);
  return o;
}

} // namespace

void require_memory_for(const CheckInput& input, CheckSize size,
                        std::optional<std::uint64_t> limit_bytes, const RunContext& run) {
  const TriMesh &pocket = input.pocket.mesh, &skin = input.skin.mesh;
  size.triangles = pocket.triangles.size() + skin.triangles.size();
  size.cells = skin.triangles.size() + static_cast<std::uint64_t>(3 * kMostCells);
  const auto limit = limit_bytes ? limit_bytes : available_memory_bytes();
  if (!limit || memory_need_bytes(size) <= *limit)
    return;
  size.cells = fine_cells(skin, pocket, spacing_of(input), run);
  require_memory(size, limit_bytes);
}

} // namespace leastwall
