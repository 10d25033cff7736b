#include "hollow/mended_pocket.h"

#include "base/parallel.h"
#include "hollow/facet_vectors.h"
#include "hollow/level_flips.h"
#include "mesh/edge_key.h"
#include "space/single.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <unordered_map>

namespace leastwall {
namespace {

constexpr std::size_t kMostFacets = 6'000'000;
constexpr double kFarthest_mm = 50; // a corner that would have to go farther is left
constexpr double kLeastMove_mm = 0.004;
constexpr double kFacets_mm = 0.03; // the bit follows facets and its own marks no closer
constexpr double kOff_mm = 0.05;    // it cuts within twice this, not at three times
constexpr double kFolded = -0.5;    // cosine between neighbours
constexpr double kLine_mm = 0.02;   // facets no higher than this
constexpr int kHalvings = 7;

/// Does a place lack wall, or what lies straight above it up to the face? So nothing becomes
/// narrower above.
bool lacks(const MendInput& input, Vec3 p) {
  constexpr int kMostSteps = 16;
  if (input.lack(p).mm > 0)
    return true;
  const double up = input.face_z_mm - p.z;
  const int steps = std::min(kMostSteps, static_cast<int>(std::ceil(up / (2 * input.facet_mm))));
  for (int k = 1; k <= steps; ++k)
    if (input.lack({p.x, p.y, p.z + up * k / steps}).mm > 0)
      return true;
  return false;
}

/// The least part of the way from `p` to `end`, which lacks nothing, after which nothing is
/// lacking.
double least_part(const MendInput& input, Vec3 p, Vec3 end, double from) {
  if (!lacks(input, p + (end - p) * from))
    return from;
  double lacking = from, enough = 1;
  for (int halving = 0; halving < kHalvings; ++halving) {
    const double half = (lacking + enough) / 2;
    (lacks(input, p + (end - p) * half) ? lacking : enough) = half;
  }
  return enough;
}

/// Where a corner of the given surface goes; absent: it stays. Towards the bits' set: by what the
/// wall takes of that; and where the bit did not come, so far that nothing is lacking.
std::optional<Vec3> moved(const MendInput& input, Vec3 v) {
  // What rises above the face moves with what lies on it.
  const Vec3 p{v.x, v.y, std::min(v.z, input.face_z_mm)};
  const auto allowed = input.allowed.nearest(p, kFarthest_mm);
  if (allowed && allowed->distance_mm <= kLeastMove_mm)
    return std::nullopt;
  Vec3 move{};
  if (allowed) {
    const double way = allowed->distance_mm;
    const auto now = input.now.nearest(p, way); // the allowed set lies in it
    const double left = now ? now->distance_mm : way;
    // Where the bit stays off by more, as in an edge that is drawn sharp, its set tells nothing.
    const double cut = std::clamp(3 - left / kOff_mm, 0.0, 1.0);
    double part = cut * (1 - left / way);
    if (left > kFacets_mm)
      part = least_part(input, p, allowed->point, part);
    move = (allowed->point - p) * part;
  } else if (const MendInput::Lack lack = input.lack(p); lack.mm > 0) {
    move = lack.away * lack.mm;
  }
  // Nothing leaves the face, and nothing comes above it.
  move.z = v.z >= input.face_z_mm ? 0 : std::min(move.z, input.face_z_mm - v.z);
  if (length(move) <= kLeastMove_mm)
    return std::nullopt;
  return in_single(v + move);
}

/// New places of all corners; those that stay as they are.
std::vector<Vec3> moved_all(const MendInput& input, const SplitMesh& split, const RunContext& run) {
  std::vector<Vec3> out = split.mesh.vertices;
  for_blocks(out.size(), 64, run, [&](std::size_t begin, std::size_t end) {
    std::optional<std::uint32_t> hint;
    for (std::size_t i = begin; i < end; ++i) {
      const SurfaceHit thin = input.thin.nearest(out[i], hint);
      hint = thin.triangle;
      if (thin.distance <= input.reach_mm)
        out[i] = moved(input, out[i]).value_or(out[i]);
    }
  });
  return out;
}

/// Signed volume that a facet sweeps while its corners go straight from `a` to `b`, mm3: the flux
/// of the corners' ways through it, by Simpson's rule, which is exact for it.
double swept(const TriangleCorners& a, const TriangleCorners& b) {
  TriangleCorners half;
  Vec3 way{};
  for (std::size_t i = 0; i < 3; ++i) {
    half[i] = (a[i] + b[i]) * 0.5;
    way += (b[i] - a[i]) / 3;
  }
  return dot(way, area_vector(a) + area_vector(half) * 4 + area_vector(b)) / 6;
}

/// Neighbours among changed facets and theirs that now lie on one another.
void find_folds(const std::vector<Vec3>& before, const TriMesh& mesh,
                const std::vector<bool>& changed, MendedPocket& out) {
  struct Beside {
    std::uint32_t first = 0;
    int facets = 0;
  };
  std::vector<bool> corner(mesh.vertices.size());
  for (std::uint32_t f = 0; f < mesh.triangles.size(); ++f)
    if (changed[f])
      for (const std::uint32_t v : mesh.triangles[f])
        corner[v] = true;
  std::unordered_map<std::uint64_t, Beside> edges;
  const auto cosine = [&](const std::vector<Vec3>& at, std::uint32_t f, std::uint32_t g) {
    const Vec3 a = area_vector(corners(at, mesh.triangles[f])),
               b = area_vector(corners(at, mesh.triangles[g]));
    const double both = length(a) * length(b);
    return both > 0 ? dot(a, b) / both : 1;
  };
  // One that was pressed together to a line looks nowhere.
  const auto thin = [&](std::uint32_t f) {
    const TriangleCorners c = corners(mesh.vertices, mesh.triangles[f]);
    const double longest =
        std::max({distance(c[0], c[1]), distance(c[1], c[2]), distance(c[2], c[0])});
    return 2 * length(area_vector(c)) <= kLine_mm * longest;
  };
  for (std::uint32_t f = 0; f < mesh.triangles.size(); ++f) {
    const Tri& t = mesh.triangles[f];
    if (!corner[t[0]] && !corner[t[1]] && !corner[t[2]])
      continue;
    for (std::size_t i = 0; i < 3; ++i) {
      Beside& beside = edges[edge_key(t[i], t[(i + 1) % 3])];
      if (++beside.facets == 1) {
        beside.first = f;
        continue;
      }
      if (!changed[f] && !changed[beside.first])
        continue;
      if (thin(f) || thin(beside.first))
        continue;
      const double now = cosine(mesh.vertices, f, beside.first);
      if (now < kFolded && now < cosine(before, f, beside.first) + kFolded / 2) {
        ++out.folded;
        out.folded_at = mesh.vertices[t[i]];
      }
    }
  }
}

} // namespace

SplitMesh fine_near(const TriMesh& pocket, const ClosestSurface& thin, double reach_mm,
                    double facet_mm, const RunContext& run) {
  const auto near = [&](const TriangleCorners& t) {
    return thin.nearest_to_triangle(t, reach_mm).has_value();
  };
  return split_facets(pocket, facet_mm, near, kMostFacets, run);
}

MendedPocket mended_pocket(const MendInput& input, const RunContext& run) {
  // What changes shows on the fine pocket; then the given one is made fine only there.
  const std::vector<Vec3> on_fine = moved_all(input, input.fine, run);
  std::vector<FacetPlace> places;
  for (std::uint32_t f = 0; f < input.fine.from.size(); ++f) {
    const std::vector<Vec3>& was = input.fine.mesh.vertices;
    const Tri& t = input.fine.mesh.triangles[f];
    if (std::ranges::any_of(t, [&](std::uint32_t v) { return !(on_fine[v] == was[v]); })) {
      const TriangleCorners c = corners(was, t);
      places.push_back({(c[0] + c[1] + c[2]) / 3, input.fine.from[f]});
    }
  }
  SplitMesh split = split_facets(input.pocket, input.facet_mm, places, kMostFacets, run);
  const std::vector<Vec3> to = moved_all(input, split, run);
  MendedPocket out;
  const std::vector<Vec3>& before = split.mesh.vertices;
  const std::size_t given = input.pocket.triangles.size();
  std::vector<bool> changed(split.mesh.triangles.size()), touched(changed.size());
  std::vector<unsigned> parts(given);
  for (const std::uint32_t from : split.from)
    ++parts[from];
  for (std::uint32_t f = 0; f < changed.size(); ++f) {
    const Tri& t = split.mesh.triangles[f];
    touched[f] = std::ranges::any_of(t, [&](std::uint32_t v) { return !(to[v] == before[v]); });
    changed[f] = touched[f] || parts[split.from[f]] > 1;
    if (!touched[f])
      continue;
    const TriangleCorners was = corners(before, t), is = corners(to, t);
    out.area_mm2 += length(area_vector(was));
    out.volume_mm3 -= swept(was, is);
  }
  out.volume_mm3 = std::abs(out.volume_mm3); // a sheet may look either way
  for (std::size_t v = 0; v < before.size(); ++v) {
    const double way = distance(before[v], to[v]);
    out.moved_mm.push_back(way);
    if (way > out.largest_mm) {
      out.largest_mm = way;
      out.largest_at = before[v];
    }
  }
  std::vector<double> off(to.size());
  for_blocks(to.size(), 64, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t v = begin; v < end; ++v)
      if (out.moved_mm[v] > 0 && to[v].z < input.face_z_mm) {
        const auto off_it = input.allowed.nearest(to[v], kFarthest_mm);
        off[v] = off_it ? off_it->distance_mm : kFarthest_mm;
      }
  });
  for (std::size_t v = 0; v < to.size(); ++v)
    if (off[v] > out.unreached_mm) {
      out.unreached_mm = off[v];
      out.unreached_at = to[v];
    }
  for (const std::uint32_t f : flip_level_facets(split.mesh, to, touched))
    changed[f] = true;
  out.mesh = {to, std::move(split.mesh.triangles)};
  for (std::uint32_t v = static_cast<std::uint32_t>(input.pocket.vertices.size()); v < to.size();
       ++v)
    out.mesh.vertices[v] = in_single(to[v]);
  find_folds(before, out.mesh, changed, out);
  for (std::uint32_t f = 0; f < changed.size(); ++f)
    if (changed[f])
      out.changed.push_back(f);
  return out;
}

} // namespace leastwall
