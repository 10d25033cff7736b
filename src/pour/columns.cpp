#include "pour/columns.h"

#include "base/sum_of_blocks.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace leastwall {
namespace {

/// On which side of the line through two corners a place lies. The corners are taken in the order
/// of their numbers, so that both facets at an edge answer alike.
bool left_of(const TriMesh& m, std::uint32_t a, std::uint32_t b, double x, double y) {
  const bool swapped = a > b;
  const Vec3 p = m.vertices[swapped ? b : a], q = m.vertices[swapped ? a : b];
  return ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x) >= 0) != swapped;
}

struct Crossing {
  std::uint32_t place = 0;
  double z = 0;
  int into = 0; ///< +1: air above
  bool operator<(const Crossing& o) const {
    return place != o.place ? place < o.place : z != o.z ? z < o.z : into > o.into;
  }
};

/// First and last place whose coordinate lies in [low, high].
std::pair<std::ptrdiff_t, std::ptrdiff_t> places(double low, double high, double first, double step,
                                                 std::size_t n) {
  return {std::max<std::ptrdiff_t>(0, static_cast<std::ptrdiff_t>(std::ceil((low - first) / step))),
          std::min<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(n) - 1,
                                   static_cast<std::ptrdiff_t>(std::floor((high - first) / step)))};
}

ColumnLattice lattice_over(const Box& box, std::size_t across) {
  // Neither a half nor anything that drawings are likely to use.
  constexpr double kBeside = 0.4639;
  ColumnLattice out;
  const Vec3 size = box.size();
  out.step_mm = std::max({size.x, size.y, 1e-6}) / static_cast<double>(across);
  out.nx = static_cast<std::size_t>(std::ceil(size.x / out.step_mm)) + 1;
  out.ny = static_cast<std::size_t>(std::ceil(size.y / out.step_mm)) + 1;
  out.left_mm = box.low.x - (1 - kBeside) * out.step_mm;
  out.near_mm = box.low.y - kBeside * out.step_mm;
  out.nx += 1;
  out.ny += 1;
  return out;
}

/// Places that the boxes of the facets cover, seen from above.
std::size_t visits(const TriMesh& mesh, const ColumnLattice& at) {
  std::size_t sum = 0;
  for (const Tri& t : mesh.triangles) {
    const Vec3 a = mesh.vertices[t[0]], b = mesh.vertices[t[1]], c = mesh.vertices[t[2]];
    const auto [i0, i1] =
        places(std::min({a.x, b.x, c.x}), std::max({a.x, b.x, c.x}), at.left_mm, at.step_mm, at.nx);
    const auto [j0, j1] =
        places(std::min({a.y, b.y, c.y}), std::max({a.y, b.y, c.y}), at.near_mm, at.step_mm, at.ny);
    if (i1 >= i0 && j1 >= j0)
      sum += static_cast<std::size_t>(i1 - i0 + 1) * static_cast<std::size_t>(j1 - j0 + 1);
  }
  return sum;
}

using Interval = std::array<double, 2>;

/// Sorted intervals, joined where they meet; adds what they share.
std::vector<Interval> joined(std::vector<Interval> all, double& shared) {
  std::sort(all.begin(), all.end());
  std::vector<Interval> out;
  for (const Interval& i : all) {
    if (!out.empty() && i[0] <= out.back()[1]) {
      shared += std::min(i[1], out.back()[1]) - i[0];
      out.back()[1] = std::max(out.back()[1], i[1]);
    } else {
      out.push_back(i);
    }
  }
  return out;
}

} // namespace

ColumnLattice column_lattice(const Box& box, std::size_t across,
                             const std::vector<const TriMesh*>& meshes) {
  constexpr std::size_t kFewest = 8;
  for (;; across /= 2) {
    const ColumnLattice out = lattice_over(box, across);
    std::size_t sum = 0;
    for (const TriMesh* mesh : meshes)
      sum += visits(*mesh, out);
    if (sum <= kMostVisits || across < 2 * kFewest)
      return out;
  }
}

AirColumns air_columns(const TriMesh& wet, double face_z_mm, const ColumnLattice& at,
                       const RunContext& run) {
  constexpr std::size_t kBlock = 1 << 13;
  std::vector<Crossing> crossings = sum_of_blocks(
      wet.triangles.size(), kBlock, run, std::vector<Crossing>(),
      [&](std::size_t begin, std::size_t end) {
        std::vector<Crossing> found;
        for (std::size_t k = begin; k < end; ++k) {
          const Tri& t = wet.triangles[k];
          const Vec3 a = wet.vertices[t[0]], b = wet.vertices[t[1]], c = wet.vertices[t[2]];
          const Vec3 n = cross(b - a, c - a);
          if (n.z == 0)
            continue;
          const auto [i0, i1] = places(std::min({a.x, b.x, c.x}), std::max({a.x, b.x, c.x}),
                                       at.left_mm, at.step_mm, at.nx);
          const auto [j0, j1] = places(std::min({a.y, b.y, c.y}), std::max({a.y, b.y, c.y}),
                                       at.near_mm, at.step_mm, at.ny);
          for (std::ptrdiff_t j = j0; j <= j1; ++j)
            for (std::ptrdiff_t i = i0; i <= i1; ++i) {
              const double x = at.left_mm + static_cast<double>(i) * at.step_mm,
                           y = at.near_mm + static_cast<double>(j) * at.step_mm;
              const bool ab = left_of(wet, t[0], t[1], x, y), bc = left_of(wet, t[1], t[2], x, y),
                         ca = left_of(wet, t[2], t[0], x, y);
              if (ab != bc || bc != ca)
                continue;
              const double z = a.z - ((x - a.x) * n.x + (y - a.y) * n.y) / n.z;
              found.push_back({static_cast<std::uint32_t>(static_cast<std::size_t>(j) * at.nx +
                                                          static_cast<std::size_t>(i)),
                               std::clamp(z, std::min({a.z, b.z, c.z}), std::max({a.z, b.z, c.z})),
                               n.z < 0 ? 1 : -1});
            }
        }
        return found;
      },
      [](std::vector<Crossing>& sum, const std::vector<Crossing>& part) {
        sum.insert(sum.end(), part.begin(), part.end());
      });
  std::sort(crossings.begin(), crossings.end());
  AirColumns out;
  out.first.assign(at.nx * at.ny + 1, 0);
  std::size_t next = 0;
  for (std::size_t place = 0; place < at.nx * at.ny; ++place) {
    out.first[place] = static_cast<std::uint32_t>(out.air.size());
    int depth = 0;
    while (next < crossings.size() && crossings[next].place == place) {
      const Crossing& c = crossings[next++];
      depth += c.into;
      const double until =
          next < crossings.size() && crossings[next].place == place ? crossings[next].z : face_z_mm;
      const double length = until - c.z;
      if (depth == 0 || !(length > 0))
        continue;
      out.length_mm += length;
      if (depth != 1)
        out.overlap_mm += length * (depth > 1 ? depth - 1 : 1 - depth);
      if (out.air.size() > out.first[place] && out.air.back()[1] >= c.z)
        out.air.back()[1] = until;
      else
        out.air.push_back({c.z, until});
    }
  }
  out.first.back() = static_cast<std::uint32_t>(out.air.size());
  return out;
}

TakenOut taken_out(const AirColumns& from, const std::vector<const AirColumns*>& taken) {
  TakenOut out;
  for (std::size_t place = 0; place + 1 < from.first.size(); ++place) {
    std::vector<Interval> all;
    double length = 0;
    for (const AirColumns* one : taken)
      for (std::size_t i = one->first[place]; i < one->first[place + 1]; ++i)
        all.push_back(one->air[i]);
    if (all.empty())
      continue;
    const std::vector<Interval> apart = joined(std::move(all), out.shared_mm);
    for (const Interval& i : apart)
      length += i[1] - i[0];
    double inside = 0;
    for (const Interval& i : apart)
      for (std::size_t k = from.first[place]; k < from.first[place + 1]; ++k)
        inside += std::max(0.0, std::min(i[1], from.air[k][1]) - std::max(i[0], from.air[k][0]));
    out.taken_mm += inside;
    out.outside_mm += std::max(0.0, length - inside);
  }
  return out;
}

} // namespace leastwall
