#include "mesh/inspect_mesh.h"

#include "mesh/disjoint_sets.h"
#include "mesh/mesh_edges.h"

#include <algorithm>

namespace leastwall {
namespace {

bool same_way(const TriMesh& mesh, std::uint32_t half_a, std::uint32_t half_b) {
  return ends_of(mesh, half_a).from == ends_of(mesh, half_b).from;
}

/// The corner of its facet that half-edge `half` does not touch.
std::uint32_t opposite(const TriMesh& mesh, std::uint32_t half) {
  const std::uint32_t k = half % 3;
  return mesh.triangles[half / 3][k == 0 ? 2 : k - 1];
}

/// Whether two of the facets on one edge share their third corner, too.
bool doubled_at(const TriMesh& mesh, std::span<const std::uint32_t> halves) {
  if (halves.size() == 2)
    return opposite(mesh, halves[0]) == opposite(mesh, halves[1]);
  std::vector<std::uint32_t> corners;
  for (const std::uint32_t half : halves)
    corners.push_back(opposite(mesh, half));
  std::sort(corners.begin(), corners.end());
  return std::adjacent_find(corners.begin(), corners.end()) != corners.end();
}

struct BoundaryEdge {
  std::uint32_t low, high;
  double length_mm;
};

/// Longest connected run of boundary edges, mm.
double longest_run(const std::vector<BoundaryEdge>& edges) {
  std::vector<std::uint32_t> corners;
  for (const BoundaryEdge& e : edges) {
    corners.push_back(e.low);
    corners.push_back(e.high);
  }
  std::sort(corners.begin(), corners.end());
  corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
  const auto place = [&](std::uint32_t v) {
    return static_cast<std::uint32_t>(std::lower_bound(corners.begin(), corners.end(), v) -
                                      corners.begin());
  };
  DisjointSets runs(corners.size());
  for (const BoundaryEdge& e : edges)
    runs.join(place(e.low), place(e.high));
  std::vector<double> lengths(corners.size(), 0.0);
  double longest = 0;
  for (const BoundaryEdge& e : edges) {
    double& sum = lengths[runs.find(place(e.low))];
    sum += e.length_mm;
    longest = std::max(longest, sum);
  }
  return longest;
}

} // namespace

bool MeshFindings::sound() const {
  if (!closed() || misoriented_edges > 0 || degenerate_dropped > 0)
    return false;
  const auto looks = [](double sign) {
    return [sign](const MeshComponent& piece) { return sign * piece.signed_volume_mm3 > 0; };
  };
  return std::all_of(components.begin(), components.end(), looks(1)) ||
         std::all_of(components.begin(), components.end(), looks(-1));
}

MeshFindings inspect_mesh(const TriMesh& mesh) {
  MeshFindings found;
  found.vertices = mesh.vertices.size();
  found.triangles = mesh.triangles.size();
  found.box = mesh.box();

  const MeshEdges edges(mesh);
  DisjointSets pieces(mesh.triangles.size());
  std::vector<BoundaryEdge> boundary;
  std::vector<std::uint32_t> open_at, misoriented_at; // a facet at each such edge
  edges.for_each([&](std::uint32_t low, std::uint32_t high, std::span<const std::uint32_t> halves) {
    for (std::size_t i = 1; i < halves.size(); ++i)
      pieces.join(halves[0] / 3, halves[i] / 3);
    if (halves.size() != 2)
      open_at.push_back(halves[0] / 3);
    if (!found.has_doubled && halves.size() > 1)
      found.has_doubled = doubled_at(mesh, halves);
    if (halves.size() == 1) {
      boundary.push_back({low, high, distance(mesh.vertices[low], mesh.vertices[high])});
      found.boundary_length_mm += boundary.back().length_mm;
    } else if (halves.size() > 2) {
      ++found.nonmanifold_edges;
    } else if (same_way(mesh, halves[0], halves[1])) {
      ++found.misoriented_edges;
      misoriented_at.push_back(halves[0] / 3);
    }
  });
  found.boundary_edges = boundary.size();
  found.longest_boundary_loop_mm = longest_run(boundary);

  // Pieces in the order of their first facet; volumes about the middle of the box, so that a piece
  // far from the origin loses no digits.
  constexpr std::uint32_t kNone = 0xffffffffu;
  std::vector<std::uint32_t> piece_of(mesh.triangles.size(), kNone);
  const Vec3 middle = found.box.empty() ? Vec3{} : found.box.middle();
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    const std::uint32_t root = pieces.find(t);
    if (root == t) {
      piece_of[t] = static_cast<std::uint32_t>(found.components.size());
      found.components.push_back({0, true, true, 0, {}});
    }
    MeshComponent& piece = found.components[piece_of[root]];
    const Tri& tri = mesh.triangles[t];
    const Vec3 a = mesh.vertices[tri[0]] - middle, b = mesh.vertices[tri[1]] - middle,
               c = mesh.vertices[tri[2]] - middle;
    ++piece.triangles;
    piece.signed_volume_mm3 += dot(a, cross(b, c)) / 6;
    for (const std::uint32_t corner : tri)
      piece.box.add(mesh.vertices[corner]);
    found.area_mm2 += length(cross(b - a, c - a)) / 2;
  }
  for (const std::uint32_t t : open_at)
    found.components[piece_of[pieces.find(t)]].closed = false;
  for (const std::uint32_t t : misoriented_at)
    found.components[piece_of[pieces.find(t)]].oriented = false;
  std::stable_sort(
      found.components.begin(), found.components.end(),
      [](const MeshComponent& a, const MeshComponent& b) { return a.triangles > b.triangles; });
  return found;
}

} // namespace leastwall
