#include "wall/piece_facts.h"

#include "geometry/mesh_edges.h"
#include "wall/open_runs.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

/// Mean height of the open edges, by their length; absent where there are none.
std::optional<double> height_of_open_edges(const TriMesh& mesh) {
  double length_open = 0, height_open = 0;
  MeshEdges(mesh).for_each(
      [&](std::uint32_t low, std::uint32_t high, std::span<const std::uint32_t> halves) {
        if (halves.size() != 1)
          return;
        const double l = distance(mesh.vertices[low], mesh.vertices[high]);
        length_open += l;
        height_open += l * 0.5 * (mesh.vertices[low].z + mesh.vertices[high].z);
      });
  return length_open > 0 ? std::optional(height_open / length_open) : std::nullopt;
}

} // namespace

SurfaceFacts surface_facts(const TriMesh& machined, const OpenEdgesKnown& known) {
  SurfaceFacts facts;
  facts.box = machined.box();
  double moment = 0;
  for (const Tri& t : machined.triangles) {
    const Vec3 a = machined.vertices[t[0]], b = machined.vertices[t[1]],
               c = machined.vertices[t[2]];
    const double plan = 0.5 * std::abs(cross(b - a, c - a).z);
    facts.plan_area_mm2 += plan;
    moment += plan * (a.z + b.z + c.z) / 3;
  }
  if (!(facts.plan_area_mm2 > 0))
    return facts;
  const double mean = moment / facts.plan_area_mm2;
  const std::optional<double> rim =
      known.closed_body ? known.rim_z_mm : height_of_open_edges(machined);
  facts.bulge_mm = rim ? mean - *rim : 2 * (facts.box.middle().z - mean);
  return facts;
}

void find_holes(SurfaceFacts& facts, const TriMesh& machined, double top_z_mm,
                const std::function<const ClosestSurface&()>& other) {
  const OpenRuns runs = open_runs(machined, top_z_mm);
  facts.holes_looked_at = runs.looked_at;
  for (const OpenRun& run : runs.holes) {
    SurfaceHole hole{run.box.middle(), run.across_mm(), std::numeric_limits<double>::max()};
    for (const Vec3 p : run.edges)
      hole.wall_mm = std::min(hole.wall_mm, other().nearest(p).distance);
    facts.holes.push_back(hole);
  }
}

} // namespace leastwall
