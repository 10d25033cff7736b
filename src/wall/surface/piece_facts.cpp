#include "wall/surface/piece_facts.h"

#include "base/work_count.h"
#include "mesh/mesh_edges.h"
#include "wall/surface/machined_surface.h"
#include "wall/surface/open_runs.h"

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

void find_holes(SurfaceFacts& facts, const TriMesh& machined, const OpenRunsAsked& asked,
                const std::function<const ClosestSurface&()>& other_tree) {
  const OpenRuns runs = open_runs(machined, asked);
  facts.holes_looked_at = runs.looked_at;
  for (const OpenRun& run : runs.holes) {
    SurfaceHole hole{run.box.middle(), run.across_mm, std::numeric_limits<double>::max()};
    for (const Vec3 p : run.edges)
      hole.wall_mm = std::min(hole.wall_mm, other_tree().nearest(p).distance);
    facts.holes.push_back(hole);
  }
}

EndsBelow ends_below_by(const TriMesh& machined, double rim_z_mm, double top_z_mm,
                        const ClosestSurface& other) {
  EndsBelow ends{top_z_mm - rim_z_mm, std::numeric_limits<double>::max()};
  const double on_rim = rim_z_mm - plane_tolerance_mm(machined.box());
  for (const Tri& t : machined.triangles)
    for (const std::uint32_t v : t)
      if (machined.vertices[v].z >= on_rim)
        ends.wall_mm = std::min(ends.wall_mm, other.nearest(machined.vertices[v]).distance);
  return ends;
}

double beyond(const VerticalRayGrid& surface, const VerticalRayGrid& other, double top_z_mm) {
  constexpr int kAcross = 64, kScatter = 1597;    // odd: each place comes once
  constexpr std::uint64_t kMostSteps = 4'000'000; // a plain mesh takes some hundred a place
  const Box box = surface.box();
  // What lies on the face is not asked, where there is anything under it.
  const double tolerance = plane_tolerance_mm(box);
  const double below =
      box.low.z < top_z_mm - tolerance ? top_z_mm - tolerance : std::numeric_limits<double>::max();
  int asked = 0, missed = 0;
  const std::uint64_t before = steps_of_thread;
  // Scattered, so that the first of them stand for all where a line meets very many facets.
  for (int k = 0; k < kAcross * kAcross && steps_of_thread - before < kMostSteps; ++k) {
    const int place = k * kScatter % (kAcross * kAcross), i = place / kAcross, j = place % kAcross;
    // Off the middle, so that no line of a regular mesh is met again and again.
    const double x = box.low.x + box.size().x * (i + 0.4871) / kAcross;
    const double y = box.low.y + box.size().y * (j + 0.5127) / kAcross;
    const std::optional<double> floor = surface.lowest(x, y);
    if (!floor || *floor >= below)
      continue;
    ++asked;
    if (!other.lowest(x, y))
      ++missed;
  }
  return asked > 0 ? double(missed) / asked : 0;
}

} // namespace leastwall
