// How many cells a fine measurement cuts a surface into, told from the meshes before anything is
// measured: what memory a check needs depends on it.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"

#include <cstdint>

namespace leastwall {

struct FineCellsOptions {
  double fine_spacing_mm = 0.25; ///< longest edge of a cell where the other surface is near
  double coarse_spacing_mm = 4;  ///< and elsewhere
  double near_mm = 1;            ///< nearer than this is near
  double most = 1e9;             ///< counting ends here: a refinement has its bound, too
};

/// Cells on `surface` when facets within `near_mm` of `other` are cut down to the fine spacing by
/// halving edges, and all others to the coarse one; flats at its top are left out. An estimate:
/// each facet is cut by itself. At most `most`; the work grows as the answer.
std::uint64_t fine_cells(const TriMesh& surface, const TriMesh& other,
                         const FineCellsOptions& options, const RunContext& run);

} // namespace leastwall
