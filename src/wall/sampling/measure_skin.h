// The skin's map, with a distance field as guide where one pays.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"
#include "wall/sampling/measure_options.h"
#include "wall/sampling/refine.h"

#include <limits>

namespace leastwall {

struct MeasuredSkin {
  RefinedMap map;
  /// Walls from here on are only known to be at least as large as they say.
  double exact_to_mm = std::numeric_limits<double>::infinity();
};

/// Measures the skin; where a distance field shows it to be thick, without asking the triangles.
MeasuredSkin measure_skin(const TriMesh& skin, RefineStart start, WallProbe& probe,
                          const MeasureOptions& options, const RefineOptions& spacing,
                          const RunContext& run);

} // namespace leastwall
