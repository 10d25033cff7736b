#include "spatial/vertical_ray_tree.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

// Pieces beyond one a facet: a few each, and while that is not many, more.
constexpr std::size_t kMore = 4, kMaxMore = 4'000'000;
constexpr std::size_t kMoreOfFew = 100, kMaxMoreOfFew = 1'000'000;

double after(double v) {
  return std::nextafter(v, std::numeric_limits<double>::infinity());
}

/// By how much the plan box of a facet is larger than the facet, mm2.
double waste_of(const TriMesh& mesh, const Tri& t) {
  const Vec3 &a = mesh.vertices[t[0]], &b = mesh.vertices[t[1]], &c = mesh.vertices[t[2]];
  const double wide = std::max({a.x, b.x, c.x}) - std::min({a.x, b.x, c.x});
  const double deep = std::max({a.y, b.y, c.y}) - std::min({a.y, b.y, c.y});
  return std::max(0.0, wide * deep - std::abs(cross(b - a, c - a).z));
}

} // namespace

void VerticalRayTree::Plan::add(const Plan& other) {
  low_x = std::min(low_x, other.low_x);
  high_x = std::max(high_x, other.high_x);
  low_y = std::min(low_y, other.low_y);
  high_y = std::max(high_y, other.high_y);
}

VerticalRayTree::VerticalRayTree(const TriMesh& mesh) {
  const std::size_t n = mesh.triangles.size();
  double waste = 0;
  for (const Tri& t : mesh.triangles)
    waste += waste_of(mesh, t);
  const auto more = static_cast<double>(
      std::max(std::min(kMore * n, kMaxMore), std::min(kMoreOfFew * n, kMaxMoreOfFew)));
  pieces_.reserve(n);
  for (std::uint32_t i = 0; i < n; ++i) {
    const double share = waste > 0 ? waste_of(mesh, mesh.triangles[i]) / waste : 0;
    cut(mesh, i, 1 + static_cast<std::size_t>(share * more));
  }
  nodes_.reserve(pieces_.size() / kLeaf * 4 + 1);
  if (!pieces_.empty())
    build(0, pieces_.size());
}

/// Cuts a facet across the longer side of its box.
void VerticalRayTree::cut(const TriMesh& mesh, std::uint32_t facet, std::size_t parts) {
  std::array<std::array<double, 2>, 3> p; // corners, the longer side first
  double size[2] = {0, 0}, reach = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec3& v = mesh.vertices[mesh.triangles[facet][k]];
    p[k] = {v.x, v.y};
    for (std::size_t axis = 0; axis < 2; ++axis) {
      reach = std::max(reach, std::abs(p[k][axis]));
      for (std::size_t j = 0; j < k; ++j)
        size[axis] = std::max(size[axis], std::abs(p[k][axis] - p[j][axis]));
    }
  }
  const bool turned = size[1] > size[0];
  if (turned)
    for (auto& corner : p)
      std::swap(corner[0], corner[1]);
  const double low = std::min({p[0][0], p[1][0], p[2][0]});
  const double high = std::max({p[0][0], p[1][0], p[2][0]});
  const double hair = 1e-12 * reach; // more than a crossing is off by rounding
  double from = low;
  for (std::size_t part = 1; part <= parts && from <= high; ++part) {
    const double to =
        part == parts ? after(high)
                      : low + (high - low) * static_cast<double>(part) / static_cast<double>(parts);
    if (!(to > from))
      continue;
    double least = std::numeric_limits<double>::infinity(), most = -least;
    const auto add = [&](double across) {
      least = std::min(least, across - hair);
      most = std::max(most, across + hair);
    };
    for (std::size_t k = 0; k < 3; ++k) {
      const auto &a = p[k], &b = p[(k + 1) % 3];
      if (a[0] >= from && a[0] <= to)
        add(a[1]);
      for (const double at : {from, to})
        if (std::min(a[0], b[0]) <= at && at <= std::max(a[0], b[0]) && a[0] != b[0])
          add(a[1] + (b[1] - a[1]) * ((at - a[0]) / (b[0] - a[0])));
    }
    const Plan plan =
        turned ? Plan{least, after(most), from, to} : Plan{from, to, least, after(most)};
    pieces_.push_back({plan, facet});
    from = to;
  }
}

void VerticalRayTree::build(std::size_t begin, std::size_t end) {
  const std::size_t me = nodes_.size();
  nodes_.push_back(
      {pieces_[begin].plan, static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(end)});
  Plan middles{1e300, -1e300, 1e300, -1e300};
  const auto middle_x = [](const Piece& p) { return p.plan.low_x / 2 + p.plan.high_x / 2; };
  const auto middle_y = [](const Piece& p) { return p.plan.low_y / 2 + p.plan.high_y / 2; };
  for (std::size_t i = begin; i < end; ++i) {
    nodes_[me].plan.add(pieces_[i].plan);
    const double x = middle_x(pieces_[i]), y = middle_y(pieces_[i]);
    middles.add({x, x, y, y});
  }
  if (end - begin <= kLeaf)
    return;
  const bool by_x = middles.high_x - middles.low_x >= middles.high_y - middles.low_y;
  const std::size_t half = begin + (end - begin) / 2;
  const auto at = [this](std::size_t i) {
    return pieces_.begin() + static_cast<std::ptrdiff_t>(i);
  };
  std::nth_element(at(begin), at(half), at(end), [&](const Piece& a, const Piece& b) {
    return by_x ? middle_x(a) < middle_x(b) : middle_y(a) < middle_y(b);
  });
  build(begin, half);
  nodes_[me].begin = static_cast<std::uint32_t>(nodes_.size());
  nodes_[me].end = 0;
  build(half, end);
}

} // namespace leastwall
