// Which facets of a mesh are wall: everything the cutter makes, not the lid on the pocket face.
#pragma once

#include "mesh/mesh.h"
#include "spatial/vertical_ray_grid.h"

#include <string>

namespace leastwall {

struct PocketFace {
  double top_z_mm = 0;
  bool opens = false;   ///< true when lids and flats on this plane are left out
  std::string why;      ///< one sentence for the list of assumptions
  bool on_skin = false; ///< the plane is a flat of the skin
};

/// Finds the pocket face (the plane z = top_z that both meshes end at): the flat on top of a skin
/// body that the pocket reaches, else the lid on top of a pocket body. A lid is a flat with more of
/// its own mesh below it, so open sheets have none. When neither exists (open sheets, nested closed
/// bodies) nothing is left out and top_z is the highest point of both. Columns are of the meshes.
PocketFace find_pocket_face(const TriMesh& pocket, const VerticalRayGrid& pocket_columns,
                            const TriMesh& skin, const VerticalRayGrid& skin_columns);

struct MachinedSurface {
  TriMesh mesh;            ///< the wall's facets, cut off at the pocket face
  double left_out_mm2 = 0; ///< area of lids, flats and what lies above the pocket face
};

/// Leaves out facets that lie flat on the pocket face and cuts off what rises above it (a pocket
/// solid is often drawn taller than the board). Copies all facets when the face does not open.
MachinedSurface machined_surface(const TriMesh& mesh, const PocketFace& face);

/// The part of a mesh at or below z = top (facets across it are cut), and the part above.
TriMesh below_plane(const TriMesh& mesh, double top);
TriMesh above_plane(TriMesh mesh, double bottom);

/// Facets within this distance of a plane lie on it: 0.001 mm, more where coordinates are too large
/// to hold that in single precision.
double plane_tolerance_mm(const Box& box);

} // namespace leastwall
