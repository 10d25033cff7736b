// A drilled hole as a body, and the wood that it leaves: closed forms of cylinder and cone.
#include "parts/drilled_hole.h"

#include "mesh/inspect_mesh.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using doctest::Approx;

namespace {

double volume_of(const TriMesh& mesh) {
  double six = 0;
  for (const Tri& t : mesh.triangles)
    six += dot(mesh.vertices[t[0]], cross(mesh.vertices[t[1]], mesh.vertices[t[2]]));
  return six / 6;
}

} // namespace

TEST_CASE("a hole has the volume of its cylinder and its cone, and looks outwards") {
  constexpr double pi = std::numbers::pi;
  const double slope = std::tan(59 * pi / 180); // a drill point of 118 degrees
  for (const bool above : {true, false})
    for (const double d : {1.0, 6.0, 60.0}) {
      const double r = d / 2, tip = r / slope;
      const DrilledHole hole{{3, -4}, d, 2, 40, above, false};
      const TriMesh mesh = drilled_hole(hole);
      CHECK(inspect_mesh(mesh).sound());
      const double exact = pi * r * r * (40 - tip) + pi * r * r * tip / 3;
      CHECK(volume_of(mesh) >= exact * (1 - 1e-12)); // nowhere smaller
      CHECK(volume_of(mesh) <= exact * (1 + 2.1 * 0.0005 / r));
      const Box box = mesh.box();
      CHECK((above ? box.low.z : box.high.z) == Approx(above ? 2 - 40 : 2 + 40));
      CHECK((above ? box.high.z : box.low.z) == 2);
      CHECK(box.middle().x == Approx(3).epsilon(1e-4));
      DrilledHole flat = hole;
      flat.flat = true;
      CHECK(volume_of(drilled_hole(flat)) == Approx(pi * r * r * 40).epsilon(0.002));
      CHECK(inspect_mesh(drilled_hole(flat)).sound());
    }
}

TEST_CASE("a drill that is in by less than its point leaves a cone") {
  const TriMesh mesh = drilled_hole({{0, 0}, 10, 0, 1, true, false});
  CHECK(inspect_mesh(mesh).sound());
  const double r = std::tan(59 * std::numbers::pi / 180);
  CHECK(mesh.box().high.x == Approx(r).epsilon(1e-3));
  CHECK(volume_of(mesh) == Approx(std::numbers::pi * r * r / 3).epsilon(2e-3));
}

TEST_CASE("the sides of a hole are its radius away from the axis, to 0.0004 mm") {
  for (const double d : {0.5, 3.0, 12.0, 200.0}) {
    const TriMesh mesh = drilled_hole({{0, 0}, d, 0, 30, true, true});
    double least = 1e300, most = 0;
    for (const Tri& t : mesh.triangles) {
      if (mesh.vertices[t[0]].z == mesh.vertices[t[1]].z &&
          mesh.vertices[t[1]].z == mesh.vertices[t[2]].z)
        continue; // lid or bottom
      const Vec3 a = mesh.vertices[t[0]];
      const Vec3 n = unit(cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a));
      least = std::min(least, dot(n, a));
      most = std::max(most, std::hypot(a.x, a.y));
    }
    CHECK(least == Approx(d / 2).epsilon(1e-9));
    CHECK(most - d / 2 <= 0.00041);
  }
}
