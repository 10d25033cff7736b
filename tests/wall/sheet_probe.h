// Everything that is asked of a pocket when the skin under it is measured.
#pragma once

#include "wall/inside/inside_test.h"
#include "wall/sampling/wall_probe.h"

#include <limits>

namespace leastwall {

/// The mesh must outlive it.
struct SheetProbe {
  explicit SheetProbe(const TriMesh& pocket)
      : surface(pocket), columns(pocket), rule(pocket, columns, CutFrom::above),
        side(rule, std::numeric_limits<double>::infinity()), probe(surface, side, true) {}

  ClosestSurface surface;
  VerticalRayGrid columns;
  InsideTest rule;
  SideClassifier side;
  WallProbe probe;
};

} // namespace leastwall
