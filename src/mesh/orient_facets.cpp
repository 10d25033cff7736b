#include "mesh/inspect_mesh.h"
#include "mesh/mesh_edges.h"

#include <utility>

namespace leastwall {
namespace {

constexpr std::uint32_t kNone = 0xffffffffu;

/// Per half-edge: the half-edge on the other facet of a two-facet edge, kNone elsewhere.
std::vector<std::uint32_t> partners(const TriMesh& mesh) {
  std::vector<std::uint32_t> partner(mesh.triangles.size() * 3, kNone);
  MeshEdges(mesh).for_each(
      [&](std::uint32_t, std::uint32_t, std::span<const std::uint32_t> halves) {
        if (halves.size() == 2) {
          partner[halves[0]] = halves[1];
          partner[halves[1]] = halves[0];
        }
      });
  return partner;
}

double volume_about(const TriMesh& mesh, std::uint32_t t, Vec3 origin) {
  const Tri& tri = mesh.triangles[t];
  return dot(mesh.vertices[tri[0]] - origin,
             cross(mesh.vertices[tri[1]] - origin, mesh.vertices[tri[2]] - origin)) /
         6;
}

} // namespace

std::size_t orient_facets(TriMesh& mesh) {
  const std::vector<std::uint32_t> partner = partners(mesh);
  enum Mark : std::uint8_t { unseen, keep, turn };
  std::vector<std::uint8_t> mark(mesh.triangles.size(), unseen);
  std::vector<std::uint32_t> patch;
  std::size_t turned = 0;
  for (std::uint32_t start = 0; start < mesh.triangles.size(); ++start) {
    if (mark[start] != unseen)
      continue;
    patch.assign(1, start);
    mark[start] = keep;
    bool closed = true;
    std::size_t turning = 0;
    for (std::size_t i = 0; i < patch.size(); ++i) {
      const std::uint32_t t = patch[i];
      for (std::uint32_t h = 3 * t; h < 3 * t + 3; ++h) {
        const std::uint32_t other = partner[h];
        if (other == kNone) {
          closed = false;
          continue;
        }
        if (mark[other / 3] != unseen)
          continue;
        const bool same_way = ends_of(mesh, h).from == ends_of(mesh, other).from;
        mark[other / 3] = same_way == (mark[t] == keep) ? turn : keep;
        turning += mark[other / 3] == turn;
        patch.push_back(other / 3);
      }
    }
    // A one-sided patch (a Moebius band) has edges that disagree whichever way facets look.
    std::size_t before = 0, after = 0;
    for (const std::uint32_t t : patch)
      for (std::uint32_t h = 3 * t; h < 3 * t + 3; ++h)
        if (const std::uint32_t other = partner[h]; other != kNone) {
          const bool same_way = ends_of(mesh, h).from == ends_of(mesh, other).from;
          before += same_way;
          after += same_way == (mark[t] == mark[other / 3]);
        }
    if (after > before) {
      for (const std::uint32_t t : patch)
        mark[t] = keep;
      turning = 0;
    }
    // A closed patch looks outwards; an open one keeps the way most of its facets look.
    bool swap_all = turning * 2 > patch.size();
    if (closed) {
      const Vec3 origin = mesh.vertices[mesh.triangles[start][0]];
      double volume = 0;
      for (const std::uint32_t t : patch)
        volume += (mark[t] == turn ? -1 : 1) * volume_about(mesh, t, origin);
      if (volume != 0)
        swap_all = volume < 0;
    }
    for (const std::uint32_t t : patch) {
      if ((mark[t] == turn) == swap_all)
        continue;
      std::swap(mesh.triangles[t][1], mesh.triangles[t][2]);
      ++turned;
    }
  }
  return turned;
}

} // namespace leastwall
