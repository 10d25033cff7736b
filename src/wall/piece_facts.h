// How pocket and skin lie in one another, as facts: what the findings about pairs that do not
// belong together rest on.
#pragma once

#include "geometry/closest_surface.h"
#include "geometry/mesh.h"

#include <functional>
#include <optional>
#include <vector>

namespace leastwall {

/// A hole in one surface, and how far the other surface is from its edge.
struct SurfaceHole {
  Vec3 at;              ///< its middle, model space, mm
  double across_mm = 0; ///< longest side of its box
  double wall_mm = 0;   ///< least distance from its edge to the other surface
};

/// Facts of one machined surface.
struct SurfaceFacts {
  Box box; ///< mm
  /// Which way it bulges, mm: mean height over the plan less mean height of its open edges; for a
  /// surface without any, twice the middle of its box less the mean height over the plan (a bowl
  /// closed by its lid is wide on top). A bowl that hangs from its rim is negative.
  double bulge_mm = 0;
  double plan_area_mm2 = 0;       ///< area of its facets seen from above, layers added up
  std::vector<SurfaceHole> holes; ///< widest first
  bool holes_looked_at = true;
};

struct PieceFacts {
  SurfaceFacts pocket, skin;
  double skin_in_air = 0; ///< share of the skin's area that lies in what the pocket cuts away
};

/// What is known of the open edges of a surface: nothing, or that the body it was cut from is
/// closed, so that all of them lie on the pocket face (absent: there are none).
struct OpenEdgesKnown {
  bool closed_body = false;
  std::optional<double> rim_z_mm;
};

/// Everything but the holes.
SurfaceFacts surface_facts(const TriMesh& machined, const OpenEdgesKnown& known);

/// Fills the holes of `facts`. `other` gives the other surface; it is called only where there is a
/// hole. `top_z_mm`: the pocket face.
void find_holes(SurfaceFacts& facts, const TriMesh& machined, double top_z_mm,
                const std::function<const ClosestSurface&()>& other);

} // namespace leastwall
