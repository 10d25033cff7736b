// How pocket and skin lie in one another, as facts: what the findings about pairs that do not
// belong together rest on.
#pragma once

#include "mesh/mesh.h"
#include "spatial/closest_surface.h"
#include "spatial/vertical_ray_grid.h"
#include "wall/surface/open_runs.h"

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

/// A surface whose flat rim ends under the pocket face.
struct EndsBelow {
  double by_mm = 0, wall_mm = 0; ///< how far, and how far the other surface is from that rim
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
  std::optional<EndsBelow> ends_below;
};

struct PieceFacts {
  SurfaceFacts pocket, skin;
  double skin_in_air = 0; ///< share of the skin's area that lies in what the pocket cuts away
  /// Share of the pocket's plan, under the pocket face, with no skin above or below it.
  double pocket_beyond_skin = 0;
  double skin_beyond_pocket = 0; ///< share of the skin's plan with no pocket above or below it
  /// What a face stated below the one shown leaves unmeasured.
  struct AboveFace {
    double stated_z_mm = 0, shown_z_mm = 0, least_wall_mm = 0;
  };
  std::optional<AboveFace> above_face;
};

/// What is known of the open edges of a surface: nothing, or that the body it was cut from is
/// closed, so that all of them lie on the pocket face (absent: there are none).
struct OpenEdgesKnown {
  bool closed_body = false;
  std::optional<double> rim_z_mm;
};

/// Everything but the holes.
SurfaceFacts surface_facts(const TriMesh& machined, const OpenEdgesKnown& known);

/// Fills the holes of `facts`. `other_tree` gives the other surface for distances; it is called
/// only where there is a hole.
void find_holes(SurfaceFacts& facts, const TriMesh& machined, const OpenRunsAsked& asked,
                const std::function<const ClosestSurface&()>& other_tree);

/// How far under `top_z_mm` the flat rim at `rim_z_mm` lies, and how near the other surface is.
EndsBelow ends_below_by(const TriMesh& machined, double rim_z_mm, double top_z_mm,
                        const ClosestSurface& other);

/// Share of the plan of what lies under `top_z_mm` with nothing of `other` above or below it, from
/// a grid over the plan.
double beyond(const VerticalRayGrid& surface, const VerticalRayGrid& other, double top_z_mm);

} // namespace leastwall
