#include "spatial/vertical_ray_grid.h"

#include "base/work_count.h"
#include "spatial/triangle_tree_search.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace leastwall {
namespace {

constexpr std::uint64_t kStepsOfFacet = 3; ///< met by a line, in double: as long as so many boxes

struct EdgeSide {
  double area = 0; ///< twice the area of (a, b, point), signed: the weight of the corner opposite
  int side = 0;    ///< 1 left of a->b, -1 right, 0 only for an edge without length in plan
};

/// Where (x, y) lies beside the directed edge a->b. Evaluated on the edge in a fixed direction, so
/// that the two facets of an edge agree to the last bit; for its side (not its area) a point on the
/// edge counts as moved by (e, e^2) with vanishing e (simulation of simplicity, Edelsbrunner and
/// Muecke 1990).
EdgeSide edge_side(const Vec3& a, const Vec3& b, double x, double y) {
  const bool swap = b.x < a.x || (b.x == a.x && b.y < a.y);
  const Vec3& p = swap ? b : a;
  const Vec3& q = swap ? a : b;
  const double area = (q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x);
  const double moved = area != 0 ? area : q.y != p.y ? p.y - q.y : q.x - p.x;
  const int side = (moved > 0) - (moved < 0);
  return swap ? EdgeSide{-area, -side} : EdgeSide{area, side};
}

/// The facets in plan, all facing up, so that those of a lid and a floor lie along one another.
TriMesh flattened(const TriMesh& mesh) {
  TriMesh plan = mesh;
  for (Vec3& v : plan.vertices)
    v.z = 0;
  for (Tri& t : plan.triangles) {
    const Vec3 a = plan.vertices[t[0]];
    if (cross(plan.vertices[t[1]] - a, plan.vertices[t[2]] - a).z < 0)
      std::swap(t[1], t[2]);
  }
  return plan;
}

} // namespace

std::size_t VerticalRayGrid::column(double x) const {
  return std::min(nx_ - 1,
                  static_cast<std::size_t>(std::max(0.0, (x - box_.low.x) * cells_per_mm_)));
}
std::size_t VerticalRayGrid::row(double y) const {
  return std::min(ny_ - 1,
                  static_cast<std::size_t>(std::max(0.0, (y - box_.low.y) * cells_per_mm_)));
}

VerticalRayGrid::VerticalRayGrid(const TriMesh& mesh) : mesh_(mesh), box_(mesh.box()) {
  const std::size_t n = std::max<std::size_t>(mesh.triangles.size(), 1);
  const Vec3 size = box_.size();
  const double area = std::max(size.x, 1e-9) * std::max(size.y, 1e-9);
  cells_per_mm_ = 1 / std::max(std::sqrt(area / (0.5 * static_cast<double>(n))),
                               1e-4 * std::max({size.x, size.y, 1e-6}));
  nx_ = static_cast<std::size_t>(size.x * cells_per_mm_) + 1;
  ny_ = static_cast<std::size_t>(size.y * cells_per_mm_) + 1;
  if (!lay_grid()) {
    start_ = {};
    tree_.emplace(flattened(mesh));
    return;
  }
  entries_.resize(start_.back());
  std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
    cells_of(mesh.triangles[i]).each(nx_, [&](std::size_t cell) {
      entries_[next[cell]++] = static_cast<std::uint32_t>(i);
    });
}

VerticalRayGrid::Cells VerticalRayGrid::cells_of(const Tri& t) const {
  Box b;
  for (const std::uint32_t v : t)
    b.add(mesh_.vertices[v]);
  return {row(b.low.y), row(b.high.y), column(b.low.x), column(b.high.x)};
}

bool VerticalRayGrid::lay_grid() {
  // Entries of the grid for each facet, and facets that a question meets (weighed by the facets of
  // its cell): a plain mesh has some five and some ten.
  constexpr std::size_t kMaxEntries = 24, kMaxMet = 128;
  const std::size_t n = std::max<std::size_t>(mesh_.triangles.size(), 64);
  std::size_t entries = 0;
  for (const Tri& t : mesh_.triangles)
    if (entries += cells_of(t).count(); entries > kMaxEntries * n)
      return false;
  start_.assign(nx_ * ny_ + 1, 0);
  for (const Tri& t : mesh_.triangles)
    cells_of(t).each(nx_, [this](std::size_t cell) { ++start_[cell + 1]; });
  double met = 0;
  for (std::size_t i = 1; i < start_.size(); ++i) {
    met += static_cast<double>(start_[i]) * start_[i];
    start_[i] += start_[i - 1];
  }
  return met <= static_cast<double>(kMaxMet) * static_cast<double>(entries);
}

template <class Visit> void VerticalRayGrid::visit(double x, double y, const Visit& visit) const {
  if (!(x >= box_.low.x && x <= box_.high.x && y >= box_.low.y && y <= box_.high.y))
    return;
  const auto meet = [&](std::uint32_t facet) {
    const Tri& t = mesh_.triangles[facet];
    const Vec3 &a = mesh_.vertices[t[0]], &b = mesh_.vertices[t[1]], &d = mesh_.vertices[t[2]];
    const EdgeSide ea = edge_side(b, d, x, y), eb = edge_side(d, a, x, y),
                   ed = edge_side(a, b, x, y);
    const double sum = ea.area + eb.area + ed.area;
    if (ea.side == 0 || ea.side != eb.side || ea.side != ed.side)
      return;
    const double low = std::min({a.z, b.z, d.z}), high = std::max({a.z, b.z, d.z});
    const double z = sum != 0 ? (ea.area * a.z + eb.area * b.z + ed.area * d.z) / sum : low;
    visit(std::clamp(z, low, high), ea.side > 0);
  };
  if (tree_) {
    bool repeated = false; // once is enough
    std::uint64_t met = 0;
    const auto meet_once = [&](std::uint32_t facet) -> std::optional<double> {
      if (facet != tree_->may_repeat() || !std::exchange(repeated, true)) {
        meet(facet);
        ++met;
      }
      return std::nullopt;
    };
    tree_->search({x, y, 0}, 0, meet_once);
    count_steps(kStepsOfFacet * met);
    return;
  }
  const std::size_t cell = row(y) * nx_ + column(x);
  for (std::uint32_t e = start_[cell]; e < start_[cell + 1]; ++e)
    meet(entries_[e]);
  count_steps(kStepsOfFacet * (start_[cell + 1] - start_[cell]));
}

ColumnCounts VerticalRayGrid::count(Vec3 p) const {
  ColumnCounts counts;
  visit(p.x, p.y, [&](double z, bool looks_up) {
    if (z < p.z) {
      ++counts.below;
      counts.signed_below += looks_up ? -1 : 1;
    } else {
      ++counts.above;
    }
  });
  return counts;
}

std::optional<double> VerticalRayGrid::lowest(double x, double y) const {
  std::optional<double> found;
  visit(x, y, [&](double z, bool) { found = found ? std::min(*found, z) : z; });
  return found;
}

std::optional<double> VerticalRayGrid::highest(double x, double y) const {
  std::optional<double> found;
  visit(x, y, [&](double z, bool) { found = found ? std::max(*found, z) : z; });
  return found;
}

} // namespace leastwall
