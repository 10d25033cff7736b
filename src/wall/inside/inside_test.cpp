#include "wall/inside/inside_test.h"

#include "base/maths/angles.h"
#include "base/work_count.h"
#include "mesh/mesh_edges.h"
#include "wall/inside/close_holes.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leastwall {
namespace {

/// Boundary edges that are summed up for each point; of more, a cheaper rule is looked for.
constexpr std::size_t kFewBoundaryEdges = 48;
/// Summed up where no cheaper rule agrees with the sum. Beyond this, cracks are left to the
/// crossings alone: a mesh torn along every edge is as good as whole to a vertical line.
constexpr std::size_t kMaxBoundaryEdges = 1000;
/// Points at which a cheaper rule is compared with the sum, and edges summed up for that in all.
constexpr std::size_t kMaxAsked = 400, kMaxSummed = 4'000'000;
/// Share of them at which it must agree.
constexpr double kMustAgree = 0.99;

/// Solid angle of triangle a, b, c seen from the origin (Van Oosterom and Strackee 1983); positive
/// when its normal points away from the origin.
double solid_angle(Vec3 a, Vec3 b, Vec3 c) {
  const double la = length(a), lb = length(b), lc = length(c);
  const double y = dot(a, cross(b, c));
  const double x = la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb;
  return 2 * maths::atan2(y, x);
}

} // namespace

InsideTest::InsideTest(const TriMesh& mesh, const VerticalRayGrid& columns, CutFrom cut, bool sound)
    : columns_(columns), cut_(cut) {
  if (sound) {
    test_ = InsideMethod::body;
    return;
  }
  Vec3 sum;
  double total = 0;
  for (const Tri& t : mesh.triangles) {
    const Vec3 a = mesh.vertices[t[0]];
    const Vec3 n = cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a);
    sum += n;
    total += length(n);
  }
  // The vector area of a closed surface is zero; of a sheet it is its footprint.
  const bool nearly_closed = length(sum) < 0.02 * total;
  std::size_t misoriented = 0;
  std::vector<OpenEdge> edges;
  MeshEdges(mesh).for_each(
      [&](std::uint32_t low, std::uint32_t, std::span<const std::uint32_t> halves) {
        int balance = 0;
        for (const std::uint32_t half : halves)
          balance += ends_of(mesh, half).from == low ? 1 : -1;
        if (halves.size() == 1) {
          const HalfEdgeEnds ends = ends_of(mesh, halves[0]);
          edges.push_back({ends.from, ends.to});
        } else if (balance != 0) {
          ++misoriented;
        }
      });
  // Facets that disagree also spoil the vector area, so for those only the boundary is asked.
  if (edges.empty())
    test_ = misoriented == 0 ? InsideMethod::body : InsideMethod::parity;
  else if (!nearly_closed || misoriented > 0)
    test_ = InsideMethod::sheet;
  else
    test_ = test_of_open_body(mesh, edges);
  if (test_ != InsideMethod::cracked_body)
    boundary_ = {};
}

InsideMethod InsideTest::test_of_open_body(const TriMesh& mesh,
                                           const std::vector<OpenEdge>& edges) {
  boundary_.reserve(edges.size());
  for (const OpenEdge& e : edges)
    boundary_.push_back({mesh.vertices[e[0]], mesh.vertices[e[1]]});
  if (edges.size() <= kFewBoundaryEdges)
    return InsideMethod::cracked_body;
  const auto closing = std::make_shared<const Closing>(close_holes(mesh, edges));
  // On both sides of facets all over the mesh: what does the sum say, and what do the others?
  const std::size_t most = std::clamp(kMaxSummed / edges.size(), std::size_t{10}, kMaxAsked);
  const std::size_t step = std::max<std::size_t>(1, mesh.triangles.size() / (most / 2));
  std::size_t asked = 0, crossings = 0, closed = 0;
  for (std::size_t i = 0; i < mesh.triangles.size() && asked < most; i += step) {
    const Tri& t = mesh.triangles[i];
    const Vec3 a = mesh.vertices[t[0]], b = mesh.vertices[t[1]], c = mesh.vertices[t[2]];
    const Vec3 across = cross(b - a, c - a);
    const double area2 = length(across);
    if (!(area2 > 0))
      continue;
    // As far from the facet as a tenth of its size.
    const Vec3 off = across * (0.1 / std::sqrt(area2));
    for (const Vec3 p : {(a + b + c) / 3.0 + off, (a + b + c) / 3.0 - off}) {
      const double plain = columns_.count(p).signed_below;
      const bool inside = std::abs(plain + boundary_share(p)) >= 0.5;
      crossings += (std::abs(plain) >= 0.5) == inside;
      closed += (std::abs(plain + closing->columns.count(p).signed_below) >= 0.5) == inside;
      ++asked;
    }
  }
  const double enough = kMustAgree * static_cast<double>(asked);
  if (static_cast<double>(closed) >= enough && closed > crossings) {
    closing_ = closing;
    return InsideMethod::closed_holes;
  }
  if (static_cast<double>(crossings) >= enough || edges.size() > kMaxBoundaryEdges)
    return InsideMethod::crossings_only;
  return InsideMethod::cracked_body;
}

/// Of the winding number: cones from the boundary to the point at infinity above, as crossings are
/// counted below.
double InsideTest::boundary_share(Vec3 p) const {
  double sum = 0;
  for (const auto& [a, b] : boundary_)
    sum += solid_angle(unit(a - p), unit(b - p), Vec3{0, 0, 1});
  count_steps(boundary_.size());
  return sum / (4 * std::numbers::pi);
}

double InsideTest::winding(Vec3 p) const {
  double more = 0;
  if (test_ == InsideMethod::cracked_body)
    more = boundary_share(p);
  else if (test_ == InsideMethod::closed_holes)
    more = closing_->columns.count(p).signed_below;
  return more + columns_.count(p).signed_below;
}

InsideTest::Answer InsideTest::ask(Vec3 p) const {
  bool inside = false, ambiguous = false;
  switch (test_) {
  case InsideMethod::sheet: {
    const ColumnCounts counts = (machined_ != nullptr ? *machined_ : columns_).count(p);
    return {cut_ == CutFrom::above ? counts.below > 0 : counts.above > 0, false};
  }
  case InsideMethod::parity:
    inside = columns_.count(p).below % 2 != 0;
    break;
  case InsideMethod::body:
  case InsideMethod::cracked_body:
  case InsideMethod::closed_holes:
  case InsideMethod::crossings_only: {
    const double w = std::abs(winding(p));
    inside = w >= 0.5;
    ambiguous = std::abs(w - std::round(w)) > 0.1;
    break;
  }
  }
  // The pocket's body is air; what is outside the skin's body is air.
  return {cut_ == CutFrom::above ? inside : !inside, ambiguous};
}

std::string InsideTest::words() const {
  const std::string name = cut_ == CutFrom::above ? "pocket" : "skin";
  switch (test_) {
  case InsideMethod::body:
    return "The " + name + " is a closed body; inside and outside are told by its winding number.";
  case InsideMethod::cracked_body:
    return "The " + name +
           " is a body with small openings; inside and outside are told by its generalised winding "
           "number.";
  case InsideMethod::closed_holes:
    return "The " + name +
           " is a body with many openings; for inside and outside each is taken as closed by a "
           "cone to its middle.";
  case InsideMethod::crossings_only:
    return "The " + name +
           " is a body torn along many edges; inside and outside are told by "
           "counting its facets along z.";
  case InsideMethod::parity:
    return "The " + name +
           "'s facets cannot be made to agree; inside and outside are told by "
           "counting facets along z, odd is inside.";
  case InsideMethod::sheet:
    break;
  }
  return cut_ == CutFrom::above
             ? "The pocket is an open sheet; what lies above it along z is taken as cut away."
             : "The skin is an open sheet; what lies below it along z is taken as cut away.";
}

} // namespace leastwall
