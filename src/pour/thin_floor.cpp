#include "pour/thin_floor.h"

#include "base/sum_of_blocks.h"

#include <algorithm>
#include <limits>

namespace leastwall {
namespace {

using Piece = std::array<Vec3, 3>;

double area_of(const Piece& p) {
  return 0.5 * length(cross(p[1] - p[0], p[2] - p[0]));
}

/// Pieces looked at: of all facets together about so many, of one facet at least and at most.
constexpr std::size_t kAllPieces = 4'000'000, kLeastPieces = 16, kMostPieces = 20'000;

class Facet {
 public:
  Facet(const ClosestSurface& skin, double limit_mm, std::size_t most, ThinFloor& out)
      : skin_(skin), limit_(limit_mm), most_(most), out_(out) {}

  void look(const Piece& whole) {
    std::vector<Piece> open{whole};
    std::size_t seen = 0;
    while (!open.empty()) {
      const Piece p = open.back();
      open.pop_back();
      judge(p, ++seen < most_, open);
    }
  }

 private:
  /// The distance to a surface changes by no more than the way.
  void judge(const Piece& p, bool may_split, std::vector<Piece>& open) {
    const Vec3 middle = (p[0] + p[1] + p[2]) / 3;
    const SurfaceHit hit = skin_.nearest(middle, hint_);
    hint_ = hit.triangle;
    if (hit.distance < out_.least_mm) {
      out_.least_mm = hit.distance;
      out_.at = middle;
    }
    double reach = 0;
    for (const Vec3& v : p)
      reach = std::max(reach, distance(v, middle));
    if (hit.distance - reach >= limit_)
      return;
    if (hit.distance + reach < limit_) {
      thin(p);
      out_.area_mm2 += area_of(p);
      return;
    }
    std::size_t longest = 0;
    double edge = 0;
    for (std::size_t i = 0; i < 3; ++i)
      if (const double l = distance(p[i], p[(i + 1) % 3]); l > edge) {
        edge = l;
        longest = i;
      }
    if (edge <= limit_ / 2 || !may_split) {
      if (hit.distance < limit_) {
        thin(p);
        out_.area_mm2 += area_of(p);
      }
      return;
    }
    const Vec3 a = p[longest], b = p[(longest + 1) % 3], c = p[(longest + 2) % 3],
               half = (a + b) / 2;
    open.push_back({half, b, c});
    open.push_back({a, half, c});
  }
  void thin(const Piece& p) { out_.thin.push_back(p); }

  const ClosestSurface& skin_;
  double limit_;
  std::size_t most_;
  ThinFloor& out_;
  std::optional<std::uint32_t> hint_;
};

} // namespace

ThinFloor thin_floor(const TriMesh& wet, const ClosestSurface& skin, double limit_mm,
                     const RunContext& run) {
  constexpr std::size_t kBlock = 256;
  const std::size_t most = std::clamp(kAllPieces / std::max<std::size_t>(1, wet.triangles.size()),
                                      kLeastPieces, kMostPieces);
  ThinFloor none;
  none.limit_mm = limit_mm;
  none.least_mm = std::numeric_limits<double>::infinity();
  return sum_of_blocks(
      wet.triangles.size(), kBlock, run, none,
      [&](std::size_t begin, std::size_t end) {
        ThinFloor part = none;
        Facet facet(skin, limit_mm, most, part);
        for (std::size_t k = begin; k < end; ++k) {
          const Tri& t = wet.triangles[k];
          facet.look({wet.vertices[t[0]], wet.vertices[t[1]], wet.vertices[t[2]]});
        }
        return part;
      },
      [](ThinFloor& sum, const ThinFloor& part) {
        sum.area_mm2 += part.area_mm2;
        if (part.least_mm < sum.least_mm) {
          sum.least_mm = part.least_mm;
          sum.at = part.at;
        }
        sum.thin.insert(sum.thin.end(), part.thin.begin(), part.thin.end());
      });
}

} // namespace leastwall
