#include "wall/sampling/narrow_facets.h"

#include "mesh/edge_key.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace leastwall {
namespace {

constexpr double kLong = 4;   ///< widths: so long is narrow
constexpr double kStep = 0.8; ///< of the spacing, from rung to rung: they slant by one step
constexpr double kWide = 2;   ///< widths, where that is more: such cells are cut on as all others
static_assert(kStep * kStep * (1 + 1 / (kWide * kWide)) < 1);

/// Number of the corner before the longest edge of facet `t`.
std::size_t longest_from(const TriMesh& mesh, const Tri& t) {
  std::size_t from = 0;
  double longest2 = -1;
  for (std::size_t i = 0; i < 3; ++i)
    if (const double d2 = length_squared(mesh.vertices[t[i]] - mesh.vertices[t[(i + 1) % 3]]);
        d2 > longest2) {
      longest2 = d2;
      from = i;
    }
  return from;
}

/// From rung to rung of a facet, mm; absent when it is not long and narrow.
std::optional<double> step_of(const TriMesh& mesh, const Tri& t, double spacing_mm) {
  const Vec3 a = mesh.vertices[t[0]], b = mesh.vertices[t[1]], c = mesh.vertices[t[2]];
  const double longest2 =
      std::max({length_squared(a - b), length_squared(b - c), length_squared(c - a)});
  if (!(longest2 > spacing_mm * spacing_mm))
    return std::nullopt;
  const double longest = std::sqrt(longest2), width = length(cross(b - a, c - a)) / longest;
  const double step = std::max(kStep * spacing_mm, kWide * width);
  return longest >= kLong * width && longest > step ? std::optional(step) : std::nullopt;
}

class Cutter {
 public:
  Cutter(TriMesh mesh, double spacing_mm) : spacing_(spacing_mm) { out_.mesh = std::move(mesh); }

  CutAcross cut() {
    const std::vector<Tri> facets = std::move(out_.mesh.triangles);
    out_.mesh.triangles = {};
    out_.mesh.triangles.reserve(facets.size());
    for (const Tri& t : facets)
      if (const auto step = step_of(out_.mesh, t, spacing_))
        lay_rungs(t, *step);
      else
        out_.mesh.triangles.push_back(t);
    return std::move(out_);
  }

 private:
  using Chain = std::vector<std::uint32_t>;

  /// Appends the points between a and b to `chain`, then b.
  void add_edge(std::uint32_t a, std::uint32_t b, double step, Chain& chain) {
    const Vec3 p = out_.mesh.vertices[a], q = out_.mesh.vertices[b];
    if (distance(p, q) > step) {
      const auto [entry, is_new] = out_.middles.try_emplace(
          edge_key(a, b), static_cast<std::uint32_t>(out_.mesh.vertices.size()));
      const std::uint32_t middle = entry->second;
      if (is_new)
        out_.mesh.vertices.push_back((p + q) * 0.5);
      add_edge(a, middle, step, chain);
      add_edge(middle, b, step, chain);
      return;
    }
    chain.push_back(b);
  }

  /// Between the longest side and the way round the third corner, each rung the shorter of two.
  void lay_rungs(const Tri& t, double step) {
    const std::size_t from = longest_from(out_.mesh, t);
    const std::uint32_t p = t[from], q = t[(from + 1) % 3], r = t[(from + 2) % 3];
    Chain side{p}, round{p};
    add_edge(p, q, step, side);
    add_edge(p, r, step, round);
    add_edge(r, q, step, round);
    std::vector<Tri>& cells = out_.mesh.triangles;
    cells.push_back({p, side[1], round[1]});
    std::size_t i = 1, k = 1; // the rung that was laid last
    const auto rung = [&](std::size_t a, std::size_t b) {
      return distance(out_.mesh.vertices[side[a]], out_.mesh.vertices[round[b]]);
    };
    while (i + 1 < side.size() - 1 || k + 1 < round.size() - 1) {
      const bool along_side = k + 1 == round.size() - 1 ||
                              (i + 1 < side.size() - 1 && rung(i + 1, k) <= rung(i, k + 1));
      if (along_side) {
        cells.push_back({side[i], side[i + 1], round[k]});
        ++i;
      } else {
        cells.push_back({side[i], round[k + 1], round[k]});
        ++k;
      }
    }
    cells.push_back({side[i], q, round[k]});
  }

  double spacing_;
  CutAcross out_;
};

} // namespace

CutAcross cut_narrow_facets(TriMesh mesh, double spacing_mm) {
  return Cutter(std::move(mesh), spacing_mm).cut();
}

bool has_narrow_facets(const TriMesh& mesh, double spacing_mm) {
  return std::ranges::any_of(
      mesh.triangles, [&](const Tri& t) { return step_of(mesh, t, spacing_mm).has_value(); });
}

} // namespace leastwall
