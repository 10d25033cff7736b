// The body that an upright ball bit takes away, as a closed mesh.
#pragma once

#include "base/run_context.h"
#include "hollow/ball_depths.h"
#include "mesh/mesh.h"

namespace leastwall {

/// The union of the bits of `depths` below the pocket face: floor, upright walls where the bit's
/// shaft stands, and a flat lid on the face. Corners lie on or inside the true union; the floor
/// between them is straight. The outline is that of the discs of all places, found between nodes.
/// Closed, facets outwards; empty where the bit can go nowhere. The same on any number of threads.
TriMesh pocket_body(const BallDepths& depths, double ball_radius_mm, double face_z_mm,
                    const RunContext& run);

/// Volume of a closed mesh, mm3: the sum of signed tetrahedra to the origin.
double volume_mm3(const TriMesh& closed);

} // namespace leastwall
