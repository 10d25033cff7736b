// The land: wood between the pocket face and a skin that lies under it beside the pocket.
//
// The pocket face is no cut, so no facet of pocket or skin stands for it once lids and flats are
// left out; but what is left of the board beside the pocket ends there, and a skin that comes close
// to it from below leaves a thin wall. Its thickness at a skin point is the height of the pocket
// face above it. Asked of facets within 45 degrees of level that look away from the face: steeper
// ones meet it as the side of an edge, not as the other face of a wall (common practice: an edge
// under 45 degrees is a feather edge). Asked also, however steep its facets are, of a corner above
// which a cone of 45 degrees to all sides is wood: the bottom of a groove or of a dent that comes
// up from the skin's side.
//
// Corners are enough: the thickness is linear on a facet, and where a facet passes under the
// pocket's rim the rim itself, which is part of the pocket's surface, is no further away than the
// face. A feather edge counts as 0.001 mm thick: it runs out, but it is no hole.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"
#include "spatial/vertical_ray_grid.h"
#include "wall/inside/side_classifier.h"
#include "wall/sampling/wall_map.h"

#include <optional>

namespace leastwall {

/// What belongs to the pocket face and to both bodies.
struct LandOf {
  double top_z_mm = 0;
  double nudge_mm = 0;               ///< further from the face than rounding
  const SideClassifier* pocket_air;  ///< is a point in the pocket's air?
  const SideClassifier* outside_air; ///< is a point outside the skin?
  const VerticalRayGrid* skin;       ///< of the skin; beyond the outline of a sheet and under an
                                     ///< overhang there is no wood
};

struct LandLeast {
  WallPlace place; ///< `pocket` lies on the pocket face
  std::uint32_t cell = 0;
};

/// Lowers the walls of `skin`, samples inside its cells too, to the land where that is thinner (n
/// then points straight down) and returns the least land that did so. Linear in the cells: at most
/// four points of a cell and sixteen of a sample are asked for their side.
std::optional<LandLeast> measure_land(WallMap& skin, const LandOf& of, const RunContext& run);

/// The least land over the corners of a mesh, part of the skin; absent where it has none.
std::optional<double> least_land(const TriMesh& mesh, const LandOf& of, const RunContext& run);

} // namespace leastwall
