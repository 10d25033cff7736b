#include "hollow/split_facets.h"

#include "base/errors.h"
#include "mesh/edge_key.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <limits>
#include <unordered_map>

namespace leastwall {
namespace {

constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();

class Splitter {
 public:
  using Wanted = std::function<bool(std::uint32_t facet, const TriangleCorners&)>;

  Splitter(const TriMesh& mesh, double longest_mm, std::size_t most)
      : longest2_(longest_mm * longest_mm), most_(most) {
    out_.mesh = mesh;
    out_.from.resize(mesh.triangles.size());
    edges_.reserve(mesh.triangles.size() * 2);
    for (std::uint32_t f = 0; f < mesh.triangles.size(); ++f) {
      out_.from[f] = f;
      for (std::size_t i = 0; i < 3; ++i)
        add(edge(f, i), f);
    }
    places_.resize(mesh.triangles.size());
  }

  /// Kept on the facet that holds it.
  void put(const FacetPlace& place) { places_[place.facet].push_back(place.at); }
  bool holds_place(std::uint32_t facet) const { return !places_[facet].empty(); }

  SplitMesh run(const Wanted& wanted, const RunContext& context) {
    std::vector<std::uint32_t> todo;
    for (std::uint32_t f = static_cast<std::uint32_t>(out_.from.size()); f-- > 0;)
      todo.push_back(f);
    for (std::size_t steps = 0; !todo.empty(); ++steps) {
      if (steps % 4096 == 0)
        context.check();
      const std::uint32_t f = todo.back();
      if (length2(longest(f)) <= longest2_ || !wanted(f, corners(f))) {
        todo.pop_back();
        continue;
      }
      // Along ever longer edges to one that is the longest of both its facets.
      std::uint32_t at = f;
      for (;;) {
        const std::uint32_t next = other(longest(at), at);
        if (next == kNone || longest(next) == longest(at))
          break;
        at = next;
      }
      halve(longest(at), todo);
    }
    return std::move(out_);
  }

  TriangleCorners corners(std::uint32_t f) const {
    const Tri& t = out_.mesh.triangles[f];
    const std::vector<Vec3>& v = out_.mesh.vertices;
    return {v[t[0]], v[t[1]], v[t[2]]};
  }

 private:
  using Edge = std::array<std::uint32_t, 2>; ///< the lower corner first

  Edge edge(std::uint32_t f, std::size_t i) const {
    const Tri& t = out_.mesh.triangles[f];
    return {std::min(t[i], t[(i + 1) % 3]), std::max(t[i], t[(i + 1) % 3])};
  }
  double length2(const Edge& e) const {
    return length_squared(out_.mesh.vertices[e[1]] - out_.mesh.vertices[e[0]]);
  }
  /// Of equally long ones the same, whichever facet asks.
  Edge longest(std::uint32_t f) const {
    Edge best = edge(f, 0);
    for (std::size_t i = 1; i < 3; ++i) {
      const Edge e = edge(f, i);
      const double a = length2(e), b = length2(best);
      if (a > b || (a == b && e > best))
        best = e;
    }
    return best;
  }
  void add(const Edge& e, std::uint32_t f) {
    std::array<std::uint32_t, 2>& facets =
        edges_.try_emplace(edge_key(e[0], e[1]), std::array{kNone, kNone}).first->second;
    (facets[0] == kNone ? facets[0] : facets[1]) = f;
  }
  void replace(const Edge& e, std::uint32_t was, std::uint32_t is) {
    std::array<std::uint32_t, 2>& facets = edges_.at(edge_key(e[0], e[1]));
    (facets[0] == was ? facets[0] : facets[1]) = is;
  }
  std::uint32_t other(const Edge& e, std::uint32_t f) const {
    const std::array<std::uint32_t, 2>& facets = edges_.at(edge_key(e[0], e[1]));
    return facets[0] == f ? facets[1] : facets[0];
  }

  void halve(const Edge& e, std::vector<std::uint32_t>& todo) {
    if (out_.from.size() + 2 > most_)
      throw RunError(fmt::format("the changed part of the pocket would take more than {} facets; "
                                 "use a larger ball, or mend a part of the piece at a time",
                                 most_));
    const auto middle = static_cast<std::uint32_t>(out_.mesh.vertices.size());
    out_.mesh.vertices.push_back((out_.mesh.vertices[e[0]] + out_.mesh.vertices[e[1]]) * 0.5);
    for (const std::uint32_t f : edges_.at(edge_key(e[0], e[1])))
      if (f != kNone)
        todo.push_back(halve_facet(f, e, middle));
    edges_.erase(edge_key(e[0], e[1]));
  }

  /// The facet keeps the part at the corner where its edge begins; returns the other part.
  std::uint32_t halve_facet(std::uint32_t f, const Edge& e, std::uint32_t middle) {
    const Tri t = out_.mesh.triangles[f];
    std::size_t i = 0;
    while (edge(f, i) != e)
      ++i;
    const std::uint32_t a = t[i], b = t[(i + 1) % 3], c = t[(i + 2) % 3];
    const auto second = static_cast<std::uint32_t>(out_.from.size());
    out_.mesh.triangles[f] = {a, middle, c};
    out_.mesh.triangles.push_back({middle, b, c});
    out_.from.push_back(out_.from[f]);
    replace({std::min(b, c), std::max(b, c)}, f, second);
    add({a, middle}, f);
    add({b, middle}, second);
    add({c, middle}, f);
    add({c, middle}, second);
    share_places(f, second, a, middle, c);
    return second;
  }

  void share_places(std::uint32_t first, std::uint32_t second, std::uint32_t a,
                    std::uint32_t middle, std::uint32_t c) {
    places_.emplace_back();
    const std::vector<Vec3>& v = out_.mesh.vertices;
    const Vec3 cut = v[c] - v[middle], to_a = v[a] - v[middle];
    const Vec3 across = to_a - cut * (dot(to_a, cut) / std::max(length_squared(cut), 1e-300));
    std::vector<Vec3> stay;
    for (const Vec3 p : places_[first])
      (dot(p - v[middle], across) >= 0 ? stay : places_[second]).push_back(p);
    places_[first] = std::move(stay);
  }

  SplitMesh out_;
  double longest2_;
  std::size_t most_;
  std::unordered_map<std::uint64_t, std::array<std::uint32_t, 2>> edges_; ///< facets of each
  std::vector<std::vector<Vec3>> places_;                                 ///< by facet
};

} // namespace

SplitMesh split_facets(const TriMesh& mesh, double longest_mm,
                       const std::function<bool(const TriangleCorners&)>& wanted, std::size_t most,
                       const RunContext& run) {
  Splitter splitter(mesh, longest_mm, most);
  return splitter.run([&](std::uint32_t, const TriangleCorners& t) { return wanted(t); }, run);
}

SplitMesh split_facets(const TriMesh& mesh, double longest_mm, std::span<const FacetPlace> places,
                       std::size_t most, const RunContext& run) {
  Splitter splitter(mesh, longest_mm, most);
  for (const FacetPlace& place : places)
    splitter.put(place);
  return splitter.run(
      [&](std::uint32_t f, const TriangleCorners&) { return splitter.holds_place(f); }, run);
}

} // namespace leastwall
