#include "wall/open_runs.h"

#include "geometry/disjoint_sets.h"
#include "geometry/mesh_edges.h"
#include "wall/machined_surface.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace leastwall {
namespace {

struct OpenEdge {
  Vec3 from, to;       ///< as in its facet
  Vec3 opposite;       ///< third corner of the facet
  std::uint32_t facet; ///< index into triangles
};

std::vector<OpenEdge> edges_with_one_facet(const TriMesh& mesh, DisjointSets& pieces) {
  std::vector<OpenEdge> open;
  MeshEdges(mesh).for_each(
      [&](std::uint32_t, std::uint32_t, std::span<const std::uint32_t> halves) {
        for (std::size_t i = 1; i < halves.size(); ++i)
          pieces.join(halves[0] / 3, halves[i] / 3);
        if (halves.size() != 1)
          return;
        const HalfEdgeEnds ends = ends_of(mesh, halves[0]);
        const std::uint32_t k = halves[0] % 3;
        open.push_back({mesh.vertices[ends.from], mesh.vertices[ends.to],
                        mesh.vertices[mesh.triangles[halves[0] / 3][k == 0 ? 2 : k - 1]],
                        halves[0] / 3});
      });
  return open;
}

double distance_to(Vec3 p, const OpenEdge& e) {
  const Vec3 along = e.to - e.from;
  const double l2 = dot(along, along);
  const double t = l2 > 0 ? std::clamp(dot(p - e.from, along) / l2, 0.0, 1.0) : 0.0;
  return distance(p, e.from + along * t);
}

/// Open edges by the cells of a cubic grid that they pass through.
class EdgeGrid {
 public:
  explicit EdgeGrid(const std::vector<OpenEdge>& edges) : edges_(edges) {
    double sum = 0;
    for (const OpenEdge& e : edges)
      sum += distance(e.from, e.to);
    cell_ = std::max(4 * kSeam_mm, sum / static_cast<double>(edges.size()));
    for (std::uint32_t i = 0; i < edges.size(); ++i) {
      const int parts = static_cast<int>(distance(edges[i].from, edges[i].to) / (0.5 * cell_)) + 1;
      std::uint64_t last = 0;
      for (int k = 0; k <= parts; ++k) {
        const std::uint64_t here =
            key(edges[i].from + (edges[i].to - edges[i].from) * (double(k) / parts), 0, 0, 0);
        if (k == 0 || here != last)
          cells_[here].push_back(i);
        last = here;
      }
    }
  }

  /// The first edge for which `serves` holds among those that may be within kSeam_mm of p.
  template <class Serves> std::uint32_t find(Vec3 p, const Serves& serves) const {
    for (int dx = -1; dx <= 1; ++dx)
      for (int dy = -1; dy <= 1; ++dy)
        for (int dz = -1; dz <= 1; ++dz) {
          const auto found = cells_.find(key(p, dx, dy, dz));
          if (found == cells_.end())
            continue;
          for (const std::uint32_t i : found->second)
            if (distance_to(p, edges_[i]) <= kSeam_mm && serves(i))
              return i;
        }
    return kNone;
  }
  static constexpr std::uint32_t kNone = 0xffffffff;

 private:
  std::uint64_t key(Vec3 p, int dx, int dy, int dz) const {
    const auto place = [this](double v, int d) {
      return static_cast<std::uint64_t>(static_cast<std::int64_t>(std::floor(v / cell_)) + d) &
             0x1fffff;
    };
    return place(p.x, dx) | place(p.y, dy) << 21 | place(p.z, dz) << 42;
  }

  const std::vector<OpenEdge>& edges_;
  double cell_ = 1;
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> cells_;
};

/// One run while it is put together.
struct Run {
  OpenRun shown;
  std::uint32_t piece = 0;
  double length = 0, height = 0; ///< height: sum of z by length
  double fall = 0;               ///< how far its facets go down from it, by length
};

bool reaches_as_far(const Box& run, const Box& piece) {
  constexpr double kMostOf = 0.95;
  const Vec3 r = run.size(), p = piece.size();
  return r.x >= kMostOf * p.x && r.y >= kMostOf * p.y;
}

} // namespace

OpenRuns open_runs(const TriMesh& surface, double top_z_mm) {
  OpenRuns out;
  DisjointSets pieces(surface.triangles.size());
  const std::vector<OpenEdge> open = edges_with_one_facet(surface, pieces);
  if (open.empty())
    return out;
  if (open.size() > kMostOpenEdges) {
    out.looked_at = false;
    return out;
  }
  const EdgeGrid grid(open);
  const auto n = static_cast<std::uint32_t>(open.size());

  // Seams: three places along the edge, each with an edge that looks the other way. Both sides of a
  // seam are one piece.
  std::vector<bool> seam(n, false);
  std::vector<std::uint32_t> root(n);
  for (std::uint32_t i = 0; i < n; ++i)
    root[i] = pieces.find(open[i].facet);
  for (std::uint32_t i = 0; i < n; ++i) {
    const Vec3 along = unit(open[i].to - open[i].from);
    std::uint32_t partner = EdgeGrid::kNone;
    bool all = true;
    for (const double t : {0.25, 0.5, 0.75}) {
      partner = grid.find(open[i].from + (open[i].to - open[i].from) * t, [&](std::uint32_t k) {
        return k != i && (dot(along, unit(open[k].to - open[k].from)) < -0.5 || root[k] != root[i]);
      });
      if (partner == EdgeGrid::kNone) {
        all = false;
        break;
      }
    }
    seam[i] = all;
    if (all)
      pieces.join(open[i].facet, open[partner].facet);
  }

  // Runs: edges whose ends meet.
  DisjointSets meet(n);
  for (std::uint32_t i = 0; i < n; ++i) {
    if (seam[i])
      continue;
    for (const Vec3 end : {open[i].from, open[i].to})
      grid.find(end, [&](std::uint32_t k) {
        if (!seam[k] &&
            (distance(end, open[k].from) <= kSeam_mm || distance(end, open[k].to) <= kSeam_mm))
          meet.join(i, k);
        return false;
      });
  }
  std::unordered_map<std::uint32_t, Box> piece_box;
  for (std::uint32_t t = 0; t < surface.triangles.size(); ++t) {
    Box& b = piece_box[pieces.find(t)];
    for (const std::uint32_t v : surface.triangles[t])
      b.add(surface.vertices[v]);
  }
  std::vector<Run> runs;
  std::unordered_map<std::uint32_t, std::size_t> run_of;
  for (std::uint32_t i = 0; i < n; ++i) {
    if (seam[i])
      continue;
    const auto [at, fresh] = run_of.try_emplace(meet.find(i), runs.size());
    if (fresh)
      runs.emplace_back().piece = pieces.find(open[i].facet);
    Run& run = runs[at->second];
    const double l = distance(open[i].from, open[i].to);
    run.length += l;
    run.height += l * 0.5 * (open[i].from.z + open[i].to.z);
    run.fall += l * (0.5 * (open[i].from.z + open[i].to.z) - open[i].opposite.z);
    for (const Vec3 end : {open[i].from, open[i].to})
      run.shown.box.add(end);
    run.shown.edges.push_back(open[i].from);
  }

  // Which run is the rim or the outline of its piece?
  const double on_face = top_z_mm - plane_tolerance_mm(surface.box());
  std::unordered_map<std::uint32_t, std::size_t> outline; // piece -> run
  std::vector<bool> harmless(runs.size(), false);
  std::unordered_map<std::uint32_t, bool> has_rim;
  for (std::size_t r = 0; r < runs.size(); ++r)
    if (runs[r].shown.box.low.z >= on_face && runs[r].fall > 0) {
      harmless[r] = true;
      if (reaches_as_far(runs[r].shown.box, piece_box[runs[r].piece]))
        has_rim[runs[r].piece] = true;
    }
  for (std::size_t r = 0; r < runs.size(); ++r) {
    if (harmless[r] || has_rim[runs[r].piece] ||
        !reaches_as_far(runs[r].shown.box, piece_box[runs[r].piece]))
      continue;
    const auto [at, fresh] = outline.try_emplace(runs[r].piece, r);
    if (!fresh &&
        runs[r].height / runs[r].length > runs[at->second].height / runs[at->second].length)
      at->second = r;
  }
  // A pot whose opening is narrower than its belly: the run that reaches highest.
  for (std::size_t r = 0; r < runs.size(); ++r)
    if (!harmless[r] && !has_rim[runs[r].piece] && !outline.contains(runs[r].piece) &&
        runs[r].shown.box.high.z >= piece_box[runs[r].piece].high.z && runs[r].fall > 0)
      outline.try_emplace(runs[r].piece, r);
  for (const auto& [piece, r] : outline)
    harmless[r] = true;

  constexpr std::size_t kMostCorners = 400;
  for (std::size_t r = 0; r < runs.size(); ++r) {
    OpenRun& run = runs[r].shown;
    if (harmless[r] || run.across_mm() <= kSeam_mm)
      continue;
    if (const std::size_t step = run.edges.size() / kMostCorners + 1; step > 1) {
      std::vector<Vec3> some;
      for (std::size_t i = 0; i < run.edges.size(); i += step)
        some.push_back(run.edges[i]);
      run.edges = std::move(some);
    }
    out.holes.push_back(std::move(run));
  }
  std::stable_sort(out.holes.begin(), out.holes.end(), [](const OpenRun& a, const OpenRun& b) {
    return a.across_mm() > b.across_mm();
  });
  return out;
}

} // namespace leastwall
