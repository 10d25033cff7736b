#include "wall/air_rule.h"

#include "geometry/mesh_edges.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leastwall {
namespace {

/// Boundary edges beyond which cracks are left to the crossings alone: a mesh torn along every edge
/// is as good as whole to a vertical line, and a sum over all its edges for each point is not.
constexpr std::size_t kMostBoundaryEdges = 1000;

/// Solid angle of triangle a, b, c seen from the origin (Van Oosterom and Strackee 1983); positive
/// when its normal points away from the origin.
double solid_angle(Vec3 a, Vec3 b, Vec3 c) {
  const double la = length(a), lb = length(b), lc = length(c);
  const double y = dot(a, cross(b, c));
  const double x = la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb;
  return 2 * std::atan2(y, x);
}

} // namespace

AirRule::AirRule(const TriMesh& mesh, const Columns& columns, CutFrom cut, bool sound)
    : mesh_(mesh), columns_(columns), cut_(cut) {
  if (sound) {
    test_ = AirTest::body;
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
  std::size_t boundary = 0, misoriented = 0;
  MeshEdges(mesh).for_each(
      [&](std::uint32_t low, std::uint32_t, std::span<const std::uint32_t> halves) {
        int balance = 0;
        for (const std::uint32_t half : halves)
          balance += ends_of(mesh, half).from == low ? 1 : -1;
        if (halves.size() == 1) {
          ++boundary;
          const HalfEdgeEnds ends = ends_of(mesh, halves[0]);
          boundary_.push_back({mesh.vertices[ends.from], mesh.vertices[ends.to]});
        } else if (balance != 0) {
          ++misoriented;
        }
      });
  // Facets that disagree also spoil the vector area, so for those only the boundary is asked.
  if (boundary == 0)
    test_ = misoriented == 0 ? AirTest::body : AirTest::parity;
  else if (!nearly_closed || misoriented > 0)
    test_ = AirTest::sheet;
  else
    test_ = boundary <= kMostBoundaryEdges ? AirTest::cracked_body : AirTest::crossings_only;
}

double AirRule::winding(Vec3 p) const {
  double sum = 0;
  if (test_ == AirTest::cracked_body) {
    // Cones from the boundary to the point at infinity above; crossings are counted below.
    for (const auto& [a, b] : boundary_)
      sum += solid_angle(unit(a - p), unit(b - p), Vec3{0, 0, 1});
    sum /= 4 * std::numbers::pi;
  }
  return sum + columns_.count(p).signed_below;
}

AirRule::Answer AirRule::ask(Vec3 p) const {
  bool inside = false, ambiguous = false;
  switch (test_) {
  case AirTest::sheet: {
    const ColumnCounts counts = (machined_ != nullptr ? *machined_ : columns_).count(p);
    return {cut_ == CutFrom::above ? counts.below > 0 : counts.above > 0, false};
  }
  case AirTest::parity:
    inside = columns_.count(p).below % 2 != 0;
    break;
  case AirTest::body:
  case AirTest::cracked_body:
  case AirTest::crossings_only: {
    const double w = std::abs(winding(p));
    inside = w >= 0.5;
    ambiguous = std::abs(w - std::round(w)) > 0.1;
    break;
  }
  }
  // The pocket's body is air; what is outside the skin's body is air.
  return {cut_ == CutFrom::above ? inside : !inside, ambiguous};
}

std::string AirRule::words() const {
  const std::string name = cut_ == CutFrom::above ? "pocket" : "skin";
  switch (test_) {
  case AirTest::body:
    return "The " + name + " is a closed body; inside and outside are told by its winding number.";
  case AirTest::cracked_body:
    return "The " + name +
           " is a body with small openings; inside and outside are told by its generalised winding "
           "number.";
  case AirTest::crossings_only:
    return "The " + name +
           " is a body torn along many edges; inside and outside are told by "
           "counting its facets along z.";
  case AirTest::parity:
    return "The " + name +
           "'s facets cannot be made to agree; inside and outside are told by "
           "counting facets along z, odd is inside.";
  case AirTest::sheet:
    break;
  }
  return cut_ == CutFrom::above
             ? "The pocket is an open sheet; what lies above it along z is taken as cut away."
             : "The skin is an open sheet; what lies below it along z is taken as cut away.";
}

} // namespace leastwall
