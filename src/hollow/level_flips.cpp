#include "hollow/level_flips.h"

#include "base/maths/hypot.h"
#include "hollow/facet_vectors.h"
#include "mesh/edge_key.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace leastwall {
namespace {

constexpr double kFlat = 1e-9; // normals that lean less have no height
constexpr int kFlips = 8;      // rounds

class LevelFlips {
 public:
  LevelFlips(TriMesh& mesh, const std::vector<Vec3>& to, const std::vector<bool>& touched)
      : mesh_(mesh), to_(to) {
    for (std::uint32_t f = 0; f < mesh.triangles.size(); ++f) {
      const TriangleCorners before = corners(mesh.vertices, mesh.triangles[f]);
      const Vec3 n = area_vector(before);
      if (maths::hypot(n.x, n.y) > kFlat * std::abs(n.z))
        continue;
      const TriangleCorners after = corners(to, mesh.triangles[f]);
      if (after[0].z != before[0].z || after[1].z != before[1].z || after[2].z != before[2].z)
        continue;
      level_.emplace(f, n.z > 0 ? 1.0 : -1.0);
      for (std::size_t i = 0; i < 3; ++i)
        add(f, i);
      if (touched[f])
        look_.push_back(f);
    }
  }

  /// Facets that were changed.
  std::vector<std::uint32_t> run() {
    std::vector<std::uint32_t> changed;
    for (int round = 0; round < kFlips && !look_.empty(); ++round) {
      std::vector<std::uint32_t> next;
      for (const std::uint32_t f : look_)
        if (turned(f, mesh_.triangles[f]) && flip(f, changed))
          next.push_back(f);
      look_ = std::move(next);
    }
    return changed;
  }

 private:
  double height(std::uint32_t f, const Tri& t) const { // over 0: looks as it did
    return area_vector(corners(to_, t)).z * level_.at(f);
  }
  bool turned(std::uint32_t f, const Tri& t) const { return height(f, t) <= 0; }
  void add(std::uint32_t f, std::size_t i) {
    const Tri& t = mesh_.triangles[f];
    edges_[edge_key(t[i], t[(i + 1) % 3])].push_back(f);
  }
  void drop(std::uint32_t f) {
    const Tri& t = mesh_.triangles[f];
    for (std::size_t i = 0; i < 3; ++i)
      std::erase(edges_[edge_key(t[i], t[(i + 1) % 3])], f);
  }
  /// The better of the flips of its three edges, where one leaves both facets upright.
  bool flip(std::uint32_t f, std::vector<std::uint32_t>& changed) {
    const Tri t = mesh_.triangles[f];
    double best = 0;
    Tri first{}, second{};
    std::uint32_t with = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      const std::uint32_t a = t[i], b = t[(i + 1) % 3], c = t[(i + 2) % 3];
      for (const std::uint32_t g : edges_[edge_key(a, b)]) {
        if (g == f || level_.at(g) != level_.at(f))
          continue;
        const Tri& u = mesh_.triangles[g];
        const std::uint32_t d =
            *std::ranges::find_if(u, [&](std::uint32_t v) { return v != a && v != b; });
        const Tri one{a, d, c}, two{d, b, c};
        const double least = std::min(height(f, one), height(g, two));
        if (d != c && least > best) {
          best = least;
          first = one;
          second = two;
          with = g;
        }
      }
    }
    if (!(best > 0))
      return false;
    drop(f);
    drop(with);
    mesh_.triangles[f] = first;
    mesh_.triangles[with] = second;
    for (const std::uint32_t g : {f, with}) {
      changed.push_back(g);
      for (std::size_t i = 0; i < 3; ++i)
        add(g, i);
    }
    return true;
  }

  TriMesh& mesh_;
  const std::vector<Vec3>& to_;
  std::unordered_map<std::uint32_t, double> level_; ///< facets, and which way they look
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> edges_;
  std::vector<std::uint32_t> look_;
};

} // namespace

std::vector<std::uint32_t> flip_level_facets(TriMesh& mesh, const std::vector<Vec3>& to,
                                             const std::vector<bool>& touched) {
  return LevelFlips(mesh, to, touched).run();
}

} // namespace leastwall
