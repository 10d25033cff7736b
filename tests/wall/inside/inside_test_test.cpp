// Inside and outside beside an opening, against the solid angle of that opening in closed form.
#include "wall/inside/inside_test.h"

#include "spatial/vertical_ray_grid.h"
#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;

namespace {

/// A box 200 mm wide and 100 mm high whose face on `top` has a square hole of side 2 h about its
/// middle; facets look outwards. `side` 0: the hole is in the upper face, 1: in the face at +x.
TriMesh box_with_hole(double h, int side) {
  TriMesh m = shapes::box({-100, -100, -50}, {100, 100, 50});
  const auto in_face = [side](const Vec3& p) { return side == 0 ? p.z >= 50 : p.x >= 100; };
  std::erase_if(m.triangles, [&](const Tri& t) {
    return in_face(m.vertices[t[0]]) && in_face(m.vertices[t[1]]) && in_face(m.vertices[t[2]]);
  });
  // The frame around the hole: outer corners that are there, inner ones that are new.
  const auto at = [side](double u, double v) {
    return side == 0 ? Vec3{u, v, 50} : Vec3{100, u, v};
  };
  const double wide = 100, high = side == 0 ? 100 : 50;
  const double signs[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
  std::uint32_t outer[4], inner[4];
  for (int i = 0; i < 4; ++i) {
    const Vec3 corner = at(signs[i][0] * wide, signs[i][1] * high);
    for (std::uint32_t k = 0; k < m.vertices.size(); ++k)
      if (length(m.vertices[k] - corner) < 1e-9)
        outer[i] = k;
    inner[i] = static_cast<std::uint32_t>(m.vertices.size());
    m.vertices.push_back(at(signs[i][0] * h, signs[i][1] * h));
  }
  for (int i = 0; i < 4; ++i) {
    const int j = (i + 1) % 4;
    m.triangles.push_back({outer[i], outer[j], inner[j]});
    m.triangles.push_back({outer[i], inner[j], inner[i]});
  }
  return m;
}

/// Share of all directions that a square of side 2 h takes, seen from d before its middle
/// (on-axis rectangle, e.g. J. Khadjavi 1968; from memory, and 1/2 for d = 0, h^2 / (pi d^2) far
/// off).
double share_of_square(double h, double d) {
  const double a = 2 * h;
  return std::atan2(a * a, 2 * d * std::sqrt(4 * d * d + 2 * a * a)) / std::acos(-1.0);
}

} // namespace

TEST_CASE("beside an opening a point is in doubt just where its solid angle says") {
  CHECK(share_of_square(3, 1e-9) == doctest::Approx(0.5));
  CHECK(share_of_square(1, 1000) == doctest::Approx(1 / (std::acos(-1.0) * 1e6)).epsilon(1e-4));
  const double h = 4;
  // The winding number there is 1 less the opening's share inside, its share outside: one in ten
  // is where an answer is in doubt.
  double low = 0, high = 100;
  for (int i = 0; i < 60; ++i)
    (share_of_square(h, (low + high) / 2) > 0.1 ? low : high) = (low + high) / 2;
  const double edge = low;
  for (const int side : {0, 1}) {
    CAPTURE(side);
    const TriMesh mesh = box_with_hole(h, side);
    const VerticalRayGrid columns(mesh);
    const InsideTest rule(mesh, columns, CutFrom::above);
    REQUIRE(rule.test() == InsideMethod::cracked_body);
    // A little beside the axis, so that no vertical line meets an edge.
    const auto before = [side](double d) {
      return side == 0 ? Vec3{0.0123, 0.0071, 50 - d} : Vec3{100 - d, 0.0123, 0.0071};
    };
    for (const double in_or_out : {1.0, -1.0}) {
      CAPTURE(in_or_out);
      CHECK(rule.ask(before(in_or_out * edge * 0.99)).ambiguous);
      CHECK_FALSE(rule.ask(before(in_or_out * edge * 1.01)).ambiguous);
      for (const double d : {0.05, 1.0, 7.0, 30.0})
        CHECK(rule.ask(before(in_or_out * d)).air == (in_or_out > 0)); // the body is air
    }
  }
}
