// How much a pocket holds up to a level.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"

#include <cstddef>
#include <vector>

namespace leastwall {

/// mm3 between the facets and the level plane z = `level_mm` above them: exact for the facets given
/// (each is cut by the plane, and the prism over what is below is a polynomial of its heights).
/// Facets that look down count positive, those that look up negative: with the facets of a pocket
/// that look out of the resin, and an edge nowhere under the level, the volume below the level;
/// over an edge under it resin stands straight up. The same on any number of threads.
double volume_below(const TriMesh& facets, double level_mm, const RunContext& run);

/// The same for a level that falls: z = level + slope along the unit direction (dx, dy), measured
/// from model 0, 0.
struct SlopingLevel {
  double level_mm = 0, slope = 0, dx = 1, dy = 0;
  double at(Vec3 p) const { return level_mm + slope * (p.x * dx + p.y * dy); }
};
double volume_below(const TriMesh& facets, const SlopingLevel& level, const RunContext& run);

/// Separate pools that resin up to the level stands in.
std::size_t pools_below(const TriMesh& facets, double level_mm);

/// Parts of the surface that hang together over corners, in the order of their first facets.
std::vector<TriMesh> connected_parts(const TriMesh& facets);

} // namespace leastwall
