#include "wall/surface/open_runs.h"

#include "base/maths/angles.h"
#include "mesh/disjoint_sets.h"
#include "mesh/mesh_edges.h"
#include "space/cube_key.h"
#include "wall/surface/machined_surface.h"
#include "wall/surface/open_edge.h"
#include "wall/surface/slits.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>

namespace leastwall {
namespace {

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
  EdgeGrid(const std::vector<OpenEdge>& edges, Looks& looks) : edges_(edges), looks_(looks) {
    double sum = 0;
    for (const OpenEdge& e : edges)
      sum += distance(e.from, e.to);
    // Places half a cell apart stand for an edge: what is within kSeam_mm is no cell farther.
    cell_ = std::max(2 * kSeam_mm, 0.25 * sum / static_cast<double>(edges.size()));
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

  /// The first edge for which `serves` holds among those that may be within kSeam_mm of p; none
  /// either once no look is left.
  template <class Serves> std::uint32_t find(Vec3 p, const Serves& serves) const {
    for (int dx = -1; dx <= 1; ++dx)
      for (int dy = -1; dy <= 1; ++dy)
        for (int dz = -1; dz <= 1; ++dz) {
          const auto found = cells_.find(key(p, dx, dy, dz));
          if (found == cells_.end())
            continue;
          for (const std::uint32_t i : found->second)
            if (!looks_.take())
              return kNone;
            else if (distance_to(p, edges_[i]) <= kSeam_mm && serves(i))
              return i;
        }
    return kNone;
  }
  static constexpr std::uint32_t kNone = 0xffffffff;

 private:
  std::uint64_t key(Vec3 p, int dx, int dy, int dz) const { return cube_key(p, cell_, dx, dy, dz); }

  const std::vector<OpenEdge>& edges_;
  Looks& looks_;
  double cell_ = 1;
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> cells_;
};

/// One run while it is put together.
struct Run {
  OpenRun shown;
  std::uint32_t piece = 0;
  double length = 0, height = 0; ///< height: sum of z by length
  double fall = 0;               ///< how far its facets go down from it, by length
  double falling = 0;            ///< length of the edges whose facets go down
};

double fall_of(const OpenEdge& e) {
  return 0.5 * (e.from.z + e.to.z) - e.opposite.z;
}

/// Whether `k` goes on where `i` ends: the same line, the facets on either side of it.
bool goes_on(const OpenEdge& i, const OpenEdge& k, bool one_piece) {
  const double along = dot(unit(i.to - i.from), unit(k.to - k.from));
  return one_piece ? along < -0.5 : std::abs(along) > 0.5 && dot(inwards(i), inwards(k)) < 0.5;
}

/// An upright plane: dot(n, p) = at.
struct Upright {
  Vec3 n;
  double at = 0;
  double off(Vec3 p) const { return dot(n, p) - at; }
};

constexpr double kFlat_mm = 0.01;
constexpr double kMaxParts = 2e6; // of outlines, each kSlit_mm long
/// Share of a run that falls: all of an island but for ragged places; half of a hole in a slope.
constexpr double kAllRound = 0.75;

/// Upright planes that both surfaces end at, among those in which the most open edges lie.
std::vector<Upright> parting_planes(const std::vector<OpenEdge>& open, const TriMesh& mesh,
                                    const TriMesh& other) {
  constexpr std::size_t kMaxTried = 8;
  std::map<std::pair<std::int64_t, std::int64_t>, std::pair<double, Upright>> by_plane;
  for (const OpenEdge& e : open) {
    const Vec3 along{e.to.x - e.from.x, e.to.y - e.from.y, 0};
    const double l = length(along);
    if (!(l > kFlat_mm))
      continue;
    Upright plane{{-along.y / l, along.x / l, 0}, 0};
    if (plane.n.x < -1e-9 || (plane.n.x < 1e-9 && plane.n.y < 0))
      plane.n = -plane.n;
    plane.at = dot(plane.n, e.from);
    const std::pair key{std::llround(maths::atan2(plane.n.y, plane.n.x) * 500),
                        std::llround(plane.at * 20)};
    by_plane.try_emplace(key, 0.0, plane).first->second.first += l;
  }
  std::vector<std::pair<double, Upright>> longest;
  for (const auto& [key, plane] : by_plane)
    longest.push_back(plane);
  std::stable_sort(longest.begin(), longest.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  if (longest.size() > kMaxTried)
    longest.resize(kMaxTried);
  std::vector<Upright> planes;
  for (const auto& [l, plane] : longest) {
    const auto reach = [&plane = plane](const TriMesh& m) {
      std::pair<double, double> r{1e300, -1e300};
      for (const Tri& t : m.triangles)
        for (const std::uint32_t v : t) {
          r.first = std::min(r.first, plane.off(m.vertices[v]));
          r.second = std::max(r.second, plane.off(m.vertices[v]));
        }
      return r;
    };
    const auto [low, high] = reach(mesh);
    const auto [other_low, other_high] = reach(other);
    if ((std::abs(high) <= kFlat_mm && std::abs(other_high) <= kFlat_mm) ||
        (std::abs(low) <= kFlat_mm && std::abs(other_low) <= kFlat_mm))
      planes.push_back(plane);
  }
  return planes;
}

bool reaches_as_far(const Box& run, const Box& piece) {
  constexpr double kMaxOf = 0.95;
  const Vec3 r = run.size(), p = piece.size();
  return r.x >= kMaxOf * p.x && r.y >= kMaxOf * p.y;
}

/// Which runs are the rim or the outline of their pieces, for sheets that end anywhere.
void find_outlines(const std::vector<Run>& runs,
                   const std::unordered_map<std::uint32_t, Box>& piece_box, double on_face,
                   std::vector<bool>& harmless) {
  std::unordered_map<std::uint32_t, std::size_t> outline; // piece -> run
  std::unordered_map<std::uint32_t, bool> has_rim;
  const auto piece_of = [&](std::size_t r) -> const Box& { return piece_box.at(runs[r].piece); };
  for (std::size_t r = 0; r < runs.size(); ++r)
    if (runs[r].shown.box.low.z >= on_face && runs[r].fall > 0) {
      harmless[r] = true;
      if (reaches_as_far(runs[r].shown.box, piece_of(r)))
        has_rim[runs[r].piece] = true;
    }
  for (std::size_t r = 0; r < runs.size(); ++r) {
    if (harmless[r] || has_rim[runs[r].piece] || !reaches_as_far(runs[r].shown.box, piece_of(r)))
      continue;
    const auto [at, fresh] = outline.try_emplace(runs[r].piece, r);
    if (!fresh &&
        runs[r].height / runs[r].length > runs[at->second].height / runs[at->second].length)
      at->second = r;
  }
  // A pot whose opening is narrower than its belly: the run that reaches highest.
  for (std::size_t r = 0; r < runs.size(); ++r)
    if (!harmless[r] && !has_rim[runs[r].piece] && !outline.contains(runs[r].piece) &&
        runs[r].shown.box.high.z >= piece_of(r).high.z && runs[r].fall > 0)
      outline.try_emplace(runs[r].piece, r);
  for (const auto& [piece, r] : outline)
    harmless[r] = true;
}

} // namespace

OpenRuns open_runs(const TriMesh& surface, const OpenRunsAsked& asked) {
  OpenRuns out;
  DisjointSets pieces(surface.triangles.size());
  const std::vector<OpenEdge> open = edges_with_one_facet(surface, pieces);
  if (open.empty())
    return out;
  if (open.size() > kMaxOpenEdges) {
    out.looked_at = false;
    return out;
  }
  Looks looks(kMaxEdgeLooks);
  const EdgeGrid grid(open, looks);
  const auto n = static_cast<std::uint32_t>(open.size());

  // Seams: three places along the edge, each with an edge that looks the other way. Both sides of a
  // seam are one piece.
  std::vector<bool> seam(n, false);
  std::vector<std::uint32_t> root(n);
  for (std::uint32_t i = 0; i < n; ++i)
    root[i] = pieces.find(open[i].facet);
  for (std::uint32_t i = 0; i < n; ++i) {
    std::uint32_t partner = EdgeGrid::kNone;
    bool all = true;
    for (const double t : {0.25, 0.5, 0.75}) {
      partner = grid.find(open[i].from + (open[i].to - open[i].from) * t, [&](std::uint32_t k) {
        return k != i && goes_on(open[i], open[k], root[k] == root[i]);
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

  // Where everything ends at the face, what lies on it and falls from it is its rim.
  const double on_face = asked.top_z_mm - plane_tolerance_mm(surface.box());
  std::vector<bool> settled = seam;
  if (asked.ends_at_top)
    for (std::uint32_t i = 0; i < n; ++i)
      if (open[i].from.z >= on_face && open[i].to.z >= on_face && fall_of(open[i]) > 0)
        settled[i] = true;
  if (asked.ends_at_top && asked.other != nullptr) {
    std::vector<OpenEdge> left;
    for (std::uint32_t i = 0; i < n; ++i)
      if (!settled[i])
        left.push_back(open[i]);
    const std::vector<Upright> planes = parting_planes(left, surface, *asked.other);
    for (std::uint32_t i = 0; i < n; ++i)
      if (std::any_of(planes.begin(), planes.end(), [&](const Upright& plane) {
            return std::abs(plane.off(open[i].from)) <= kFlat_mm &&
                   std::abs(plane.off(open[i].to)) <= kFlat_mm;
          }))
        settled[i] = true;
  }

  // Runs: edges whose ends meet.
  DisjointSets meet(n);
  for (std::uint32_t i = 0; i < n; ++i) {
    if (settled[i])
      continue;
    for (const Vec3 end : {open[i].from, open[i].to})
      grid.find(end, [&](std::uint32_t k) {
        if (!settled[k] &&
            (distance(end, open[k].from) <= kSeam_mm || distance(end, open[k].to) <= kSeam_mm))
          meet.join(i, k);
        return false;
      });
  }
  if (!looks.left()) {
    out.looked_at = false;
    return out;
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
    if (settled[i])
      continue;
    const auto [at, fresh] = run_of.try_emplace(meet.find(i), runs.size());
    if (fresh)
      runs.emplace_back().piece = pieces.find(open[i].facet);
    Run& run = runs[at->second];
    const double l = distance(open[i].from, open[i].to);
    run.length += l;
    run.height += l * 0.5 * (open[i].from.z + open[i].to.z);
    run.fall += l * fall_of(open[i]);
    if (fall_of(open[i]) > 0)
      run.falling += l;
    for (const Vec3 end : {open[i].from, open[i].to})
      run.shown.box.add(end);
    run.shown.edges.push_back(open[i].from);
  }

  std::vector<bool> harmless(runs.size(), false);
  for (std::size_t r = 0; r < runs.size(); ++r) {
    OpenRun& shown = runs[r].shown;
    const Vec3 size = shown.box.size();
    shown.across_mm = std::max({size.x, size.y, size.z});
    // An island: wood stands higher than all that is cut round it.
    if (asked.pocket && (!asked.ends_at_top || shown.box.high.z < on_face) &&
        runs[r].falling >= kAllRound * runs[r].length)
      harmless[r] = true;
  }
  if (!asked.ends_at_top)
    find_outlines(runs, piece_box, on_face, harmless);

  constexpr std::size_t kMaxCorners = 400;
  for (std::size_t r = 0; r < runs.size(); ++r) {
    OpenRun& run = runs[r].shown;
    if (harmless[r] || run.across_mm <= kSeam_mm)
      continue;
    out.holes.push_back(std::move(run));
  }
  if (!asked.ends_at_top) {
    std::vector<OpenEdge> outlines;
    for (std::uint32_t i = 0; i < n; ++i)
      if (!settled[i])
        outlines.push_back(open[i]);
    double parts = 0;
    Looks slit_looks(4 * kMaxEdgeLooks);
    for (const OpenEdge& e : outlines)
      parts += 1 + distance(e.from, e.to) / kSlit_mm;
    if (parts > kMaxParts)
      out.looked_at = false;
    else
      for (OpenRun& slit : slits(join_short(outlines), slit_looks))
        out.holes.push_back(std::move(slit));
    out.looked_at = out.looked_at && slit_looks.left();
  }
  for (OpenRun& run : out.holes)
    if (const std::size_t step = run.edges.size() / kMaxCorners + 1; step > 1) {
      std::vector<Vec3> some;
      for (std::size_t i = 0; i < run.edges.size(); i += step)
        some.push_back(run.edges[i]);
      run.edges = std::move(some);
    }
  std::stable_sort(out.holes.begin(), out.holes.end(),
                   [](const OpenRun& a, const OpenRun& b) { return a.across_mm > b.across_mm; });
  return out;
}

} // namespace leastwall
