#include "spatial/fine_cells.h"

#include "base/parallel.h"
#include "spatial/closest_surface.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leastwall {
namespace {

constexpr std::size_t kBlock = 16384;
constexpr int kMaxQuartered = 5;

using Corners = std::array<Vec3, 3>;

Corners corners(const TriMesh& mesh, std::size_t t) {
  const Tri& k = mesh.triangles[t];
  return {mesh.vertices[k[0]], mesh.vertices[k[1]], mesh.vertices[k[2]]};
}

/// The four quarters of a triangle in turn.
template <class Take> void quarters(const Corners& c, const Take& take) {
  const Vec3 a = (c[0] + c[1]) * 0.5, b = (c[1] + c[2]) * 0.5, d = (c[2] + c[0]) * 0.5;
  take(Corners{c[0], a, d});
  take(Corners{a, c[1], b});
  take(Corners{d, b, c[2]});
  take(Corners{a, b, d});
}

/// Cells that halving edges leaves of a triangle until none is longer than `spacing`, cut as refine
/// cuts them.
/// Ends at about `most`.
double cells_of(const Corners& c, double spacing, double most) {
  if (most < 1)
    return 1;
  std::array<bool, 3> cut = {};
  for (std::size_t i = 0; i < 3; ++i)
    cut[i] = distance(c[i], c[(i + 1) % 3]) > spacing;
  const int count = cut[0] + cut[1] + cut[2];
  if (count == 0)
    return 1;
  double sum = 0;
  const auto take = [&](const Corners& q) { sum += cells_of(q, spacing, most - sum); };
  if (count == 3) {
    quarters(c, take);
    return sum;
  }
  for (std::size_t i = 0; i < 3; ++i) {
    const Vec3 p = c[i], q = c[(i + 1) % 3], r = c[(i + 2) % 3];
    if (count == 1 && cut[i]) {
      take({p, (p + q) * 0.5, r});
      take({(p + q) * 0.5, q, r});
    } else if (count == 2 && !cut[i]) {
      const Vec3 m = (q + r) * 0.5, n = (r + p) * 0.5;
      take({n, m, r});
      if (distance(p, m) <= distance(q, n)) {
        take({p, q, m});
        take({p, m, n});
      } else {
        take({p, q, n});
        take({q, m, n});
      }
    }
  }
  return sum;
}

/// Share of a triangle that is near the other surface: all of what is still undecided after
/// quartering it `levels` times.
double near_share(const Corners& c, const ClosestSurface& other, double near, int levels) {
  const Vec3 middle = (c[0] + c[1] + c[2]) / 3;
  const double round =
      std::max({distance(middle, c[0]), distance(middle, c[1]), distance(middle, c[2])});
  const double apart = other.nearest(middle).distance;
  if (round < near / 4 || apart + round < near || apart - round > near)
    return apart < near ? 1 : 0;
  if (levels == 0)
    return 1;
  double share = 0;
  quarters(c, [&](const Corners& q) { share += 0.25 * near_share(q, other, near, levels - 1); });
  return share;
}

} // namespace

std::uint64_t fine_cells(const TriMesh& surface, const TriMesh& other,
                         const FineCellsOptions& options, const RunContext& run) {
  const ClosestSurface near_to(other);
  const Box box = surface.box();
  const double height = box.high.z - box.low.z;
  const double lid_z = height > 0 ? box.high.z - 1e-4 * height : box.high.z + 1;
  std::vector<double> sums((surface.triangles.size() + kBlock - 1) / kBlock);
  for_blocks(surface.triangles.size(), kBlock, run, [&](std::size_t begin, std::size_t end) {
    double sum = 0;
    for (std::size_t t = begin; t < end; ++t) {
      const Corners c = corners(surface, t);
      if (std::min({c[0].z, c[1].z, c[2].z}) >= lid_z)
        continue;
      const double left = options.most - sum;
      if (left <= 0)
        break;
      const double fine = cells_of(c, options.fine_spacing_mm, left);
      // No more questions than there are cells.
      const int levels = std::min(kMaxQuartered, fine >= 1 ? std::ilogb(fine) / 2 : 0);
      const double share = fine > 1 ? near_share(c, near_to, options.near_mm, levels) : 0;
      sum += share * fine + (1 - share) * cells_of(c, options.coarse_spacing_mm, left);
    }
    sums[begin / kBlock] = sum;
  });
  double cells = 0;
  for (const double sum : sums)
    cells += sum;
  return static_cast<std::uint64_t>(std::min(cells, options.most));
}

} // namespace leastwall
