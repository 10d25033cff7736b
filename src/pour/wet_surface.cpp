#include "pour/wet_surface.h"

#include "mesh/disjoint_sets.h"
#include "mesh/facet_area.h"
#include "mesh/inspect_mesh.h"
#include "mesh/mesh_edges.h"
#include "pour/volume_below.h"
#include "wall/inside/close_holes.h"
#include "wall/surface/machined_surface.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

constexpr double kMostUnknown = 0.05; // of the volume

/// Six times the volume between a facet and a point.
double volume_at(const TriMesh& m, const Tri& t, Vec3 from) {
  return dot(m.vertices[t[0]] - from, cross(m.vertices[t[1]] - from, m.vertices[t[2]] - from));
}

/// Open edges as their facets run along them, and how many edges are no part of a plain surface.
struct Edges {
  std::vector<OpenEdge> open;
  std::size_t bad = 0;
  Vec3 bad_at;
};

Edges edges_of(const TriMesh& mesh) {
  Edges out;
  MeshEdges(mesh).for_each(
      [&](std::uint32_t low, std::uint32_t, std::span<const std::uint32_t> halves) {
        if (halves.size() == 1) {
          const HalfEdgeEnds ends = ends_of(mesh, halves[0]);
          out.open.push_back({ends.from, ends.to});
        } else if (halves.size() > 2 ||
                   ends_of(mesh, halves[0]).from == ends_of(mesh, halves[1]).from) {
          out.bad_at = out.bad++ == 0 ? mesh.vertices[low] : out.bad_at;
        }
      });
  return out;
}

/// The corners of the first facet name the pieces that hang together over corners.
DisjointSets pieces_of(const TriMesh& mesh) {
  DisjointSets sets(mesh.vertices.size());
  for (const Tri& t : mesh.triangles) {
    sets.join(t[0], t[1]);
    sets.join(t[0], t[2]);
  }
  return sets;
}

/// Open pieces look out of what they hold: their volume, closed by cones, is over 0.
void turn_open_pieces(TriMesh& mesh, const std::vector<OpenEdge>& open) {
  if (open.empty())
    return;
  DisjointSets pieces = pieces_of(mesh);
  const Vec3 from = mesh.box().middle();
  std::vector<double> volume(mesh.vertices.size(), 0);
  std::vector<char> is_open(mesh.vertices.size(), 0);
  for (const OpenEdge& e : open)
    is_open[pieces.find(e[0])] = 1;
  for (const Tri& t : mesh.triangles)
    volume[pieces.find(t[0])] += volume_at(mesh, t, from);
  // Its cones: each facet of one has two corners of the mesh.
  std::map<std::uint32_t, std::vector<OpenEdge>> edges_of_piece;
  for (const OpenEdge& e : open)
    edges_of_piece[static_cast<std::uint32_t>(pieces.find(e[0]))].push_back(e);
  for (const auto& [piece, edges] : edges_of_piece) {
    const TriMesh cones = close_holes(mesh, edges);
    for (const Tri& t : cones.triangles)
      volume[piece] += volume_at(cones, t, from);
  }
  for (Tri& t : mesh.triangles) {
    const auto piece = pieces.find(t[0]);
    if (is_open[piece] && volume[piece] < 0)
      std::swap(t[1], t[2]);
  }
}

/// Open edges that hang together.
std::vector<std::vector<OpenEdge>> runs_of(const TriMesh& mesh, const std::vector<OpenEdge>& open) {
  DisjointSets sets(mesh.vertices.size());
  for (const OpenEdge& e : open)
    sets.join(e[0], e[1]);
  std::map<std::uint32_t, std::vector<OpenEdge>> by_root;
  for (const OpenEdge& e : open)
    by_root[static_cast<std::uint32_t>(sets.find(e[0]))].push_back(e);
  std::vector<std::vector<OpenEdge>> out;
  for (auto& [root, edges] : by_root)
    out.push_back(std::move(edges));
  return out;
}

} // namespace

WetSurface wet_surface(TriMesh mesh, double face_z_mm) {
  WetSurface out;
  out.face_z_mm = face_z_mm;
  orient_facets(mesh);
  turn_open_pieces(mesh, edges_of(mesh).open);
  const double tolerance = plane_tolerance_mm(mesh.box());
  // Flats on the face are no part of it; what is left is cut exactly there.
  out.mesh = below_plane(machined_surface(mesh, {face_z_mm, true, {}, false}).mesh, face_z_mm);
  if (out.mesh.triangles.empty()) {
    out.trouble = WetSurface::Trouble::nothing_below;
    return out;
  }
  const Box box = out.mesh.box();
  out.deepest_z_mm = box.low.z;
  for (const Tri& t : out.mesh.triangles)
    out.area_mm2 += facet_area(out.mesh, t);
  if (box.low.z >= face_z_mm - tolerance) {
    out.trouble = WetSurface::Trouble::nothing_below;
    return out;
  }
  const Edges edges = edges_of(out.mesh);
  out.bad_edges = edges.bad;
  if (edges.bad > 0) {
    out.trouble = WetSurface::Trouble::tangled;
    out.at = edges.bad_at;
    return out;
  }
  double largest = -1;
  TriMesh cones; // to be joined
  for (const std::vector<OpenEdge>& run : runs_of(out.mesh, edges.open)) {
    double lowest = face_z_mm, round = 0;
    Vec3 low_at;
    for (const OpenEdge& e : run) {
      const Vec3 a = out.mesh.vertices[e[0]], b = out.mesh.vertices[e[1]];
      round += distance(a, b);
      for (const Vec3 v : {a, b})
        if (v.z < lowest) {
          lowest = v.z;
          low_at = v;
        }
    }
    if (lowest >= face_z_mm - tolerance)
      continue; // it opens to the pocket face
    const TriMesh cone = close_holes(out.mesh, run);
    double upwards = 0, area = 0;
    for (const Tri& t : cone.triangles) {
      const Vec3 a = cone.vertices[t[0]];
      upwards += 0.5 * cross(cone.vertices[t[1]] - a, cone.vertices[t[2]] - a).z;
      area += facet_area(cone, t);
    }
    double unknown = 0;
    if (upwards > 0) {
      // A lid looks up: its own volume under the face is less than nothing.
      unknown = std::max(0.0, -volume_below(cone, face_z_mm, {}));
      out.less_mm3 += unknown;
      out.edge_below_mm = std::max(out.edge_below_mm, face_z_mm - lowest);
    } else {
      unknown = round > 0 ? area * (2 * area / round) : 0;
      out.less_mm3 += unknown;
      out.more_mm3 += unknown;
      ++out.holes;
      const auto first = static_cast<std::uint32_t>(cones.vertices.size());
      cones.vertices.insert(cones.vertices.end(), cone.vertices.begin(), cone.vertices.end());
      for (const Tri& t : cone.triangles)
        cones.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
    }
    if (unknown > largest) {
      largest = unknown;
      out.at = low_at;
    }
  }
  const auto first = static_cast<std::uint32_t>(out.mesh.vertices.size());
  out.mesh.vertices.insert(out.mesh.vertices.end(), cones.vertices.begin(), cones.vertices.end());
  for (const Tri& t : cones.triangles)
    out.mesh.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
  const double volume = volume_below(out.mesh, face_z_mm, {});
  if (!(volume > 0) || std::max(out.less_mm3, out.more_mm3) > kMostUnknown * volume)
    out.trouble = WetSurface::Trouble::open;
  return out;
}

} // namespace leastwall
