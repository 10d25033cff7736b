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

constexpr double kNear = 3; // times what matters

class Facet {
 public:
  /// What is not nearer than `matters_mm` is passed over.
  Facet(const ClosestSurface& skin, double limit_mm, double matters_mm, std::size_t most,
        ThinFloor& out)
      : skin_(skin), limit_(limit_mm), matters_(matters_mm), most_(most), out_(out) {}

  void look(const Piece& whole) {
    if (beyond(whole))
      return;
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
    last_ = {middle, hit.distance};
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

  /// As the distance at the last place tells, which changes by no more than the way, or as a search
  /// no farther than that finds.
  bool beyond(const Piece& p) const {
    double way = 0;
    for (const Vec3& v : p)
      way = std::max(way, distance(v, last_.at));
    if (last_.distance - way >= matters_)
      return true;
    const bool was_near = last_.distance < kNear * matters_; // then a place is asked faster
    return !was_near && !skin_.nearest_to_triangle(p, matters_);
  }

  struct Place {
    Vec3 at;
    double distance = 0; ///< of the last one
  };

  const ClosestSurface& skin_;
  double limit_, matters_;
  std::size_t most_;
  ThinFloor& out_;
  std::optional<std::uint32_t> hint_;
  Place last_;
};

} // namespace

ThinFloor thin_floor(const TriMesh& wet, const ClosestSurface& skin, double limit_mm,
                     const RunContext& run) {
  constexpr std::size_t kBlock = 256;
  const auto facet_of = [&wet](std::size_t k) {
    const Tri& t = wet.triangles[k];
    return Piece{wet.vertices[t[0]], wet.vertices[t[1]], wet.vertices[t[2]]};
  };
  // The limit, or what a few places have where all is thicker: the least is no more.
  double few = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < wet.triangles.size(); k += kBlock) {
    const Piece p = facet_of(k);
    few = std::min(few, skin.nearest((p[0] + p[1] + p[2]) / 3).distance);
  }
  const double matters = std::max(limit_mm, few) * (1 + 1e-9);
  const std::size_t most = std::clamp(kAllPieces / std::max<std::size_t>(1, wet.triangles.size()),
                                      kLeastPieces, kMostPieces);
  ThinFloor none;
  none.limit_mm = limit_mm;
  none.least_mm = std::numeric_limits<double>::infinity();
  return sum_of_blocks(
      wet.triangles.size(), kBlock, run, none,
      [&](std::size_t begin, std::size_t end) {
        ThinFloor part = none;
        Facet facet(skin, limit_mm, matters, most, part);
        for (std::size_t k = begin; k < end; ++k)
          facet.look(facet_of(k));
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
