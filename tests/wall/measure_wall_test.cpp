// The measured wall against closed forms (plain geometry; each says which) and exact polyhedra.
#include "wall/measure_wall.h"

#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

namespace {

WallMeasurement measure(const TriMesh& pocket, const TriMesh& skin, double ceiling_mm = 1.5) {
  MeasureOptions options;
  options.ceiling_mm = ceiling_mm;
  return measure_wall(pocket, skin, options, RunContext{});
}

/// Area of the map whose wall, linear in each cell, is under `limit`.
double area_under(const WallMap& map, double limit) {
  double sum = 0;
  for (const Tri& c : map.cells) {
    std::vector<Vec3> kept;
    for (std::size_t i = 0; i < 3; ++i) {
      const WallSample &p = map.samples[c[i]], &q = map.samples[c[(i + 1) % 3]];
      if (p.wall_mm < limit)
        kept.push_back(p.at);
      if ((p.wall_mm < limit) != (q.wall_mm < limit))
        kept.push_back(p.at + (q.at - p.at) * ((limit - p.wall_mm) / (q.wall_mm - p.wall_mm)));
    }
    for (std::size_t i = 2; i < kept.size(); ++i)
      sum += 0.5 * length(cross(kept[i - 1] - kept[0], kept[i] - kept[0]));
  }
  return sum;
}

} // namespace

TEST_CASE("concentric spheres: the wall is the difference of the radii, mm and inch sizes") {
  // Plain geometry. Facets of inscribed spheres sag by about r (1 - cos(pi/n)).
  for (const double unit : {1.0, 25.4}) {
    const TriMesh pocket = scaled(sphere({}, 23.5, 256, 128), unit);
    const TriMesh skin = scaled(sphere({}, 25, 256, 128), unit);
    const WallMeasurement m = measure(pocket, skin, 2 * unit);
    CHECK(m.least.wall_mm == Approx(1.5 * unit).epsilon(0.005));
    for (const WallSample& s : m.skin.own_samples()) {
      REQUIRE(s.wall_mm == Approx(1.5 * unit).epsilon(0.005));
      REQUIRE(dot(s.n, leastwall::unit(s.at)) == Approx(1).epsilon(0.01));
    }
    for (const WallSample& s : m.pocket.samples)
      REQUIRE(s.wall_mm == Approx(1.5 * unit).epsilon(0.005));
  }
}

TEST_CASE("eccentric spheres: least wall, walls by angle and area under a limit") {
  // Ro 25, Ri 23.5, e 0.4: d(th) = sqrt(Ro^2 + e^2 - 2 Ro e cos th) - Ri from the outer sphere;
  // area under T = 2 pi Ro^2 (1 - cos thT). Closed form, recomputed here.
  const double ro = 25, ri = 23.5, e = 0.4, t = 1.3;
  const WallMeasurement m =
      measure(sphere({0, 0, -e}, ri, 512, 256), sphere({}, ro, 512, 256), 1.5);
  CHECK(m.least.wall_mm == Approx(ro - e - ri).epsilon(0.001));
  CHECK(m.least.skin.z == Approx(-25).epsilon(0.001));
  for (std::size_t i = 0; i < m.skin.own_samples().size(); i += 97) {
    const WallSample& s = m.skin.samples[i];
    const double cos_th = -s.at.z / ro;
    REQUIRE(s.wall_mm ==
            Approx(std::sqrt(ro * ro + e * e - 2 * ro * e * cos_th) - ri).epsilon(0.002));
  }
  const double cos_t = (ro * ro + e * e - (t + ri) * (t + ri)) / (2 * ro * e);
  CHECK(2 * std::numbers::pi * ro * ro * (1 - cos_t) == Approx(1939.93346).epsilon(1e-7));
  CHECK(area_under(m.skin, t) == Approx(1939.93346).epsilon(0.003));
  // The other direction differs: from the inner sphere the area is 1757.09 mm2.
  CHECK(area_under(m.pocket, t) == Approx(1757.09277).epsilon(0.003));
}

TEST_CASE("tori: area under a limit when the inner tube is shifted along the axis") {
  // R 20, r1 4, r2 5, v 0.3, T 0.9: least r2 - v - r1 = 0.7, area 4 pi^2 R r2 D / pi with
  // cos D = (r2^2 + v^2 - (T + r1)^2) / (2 r2 v): 1511.14180 mm2 (plain geometry).
  const WallMeasurement m =
      measure(torus({0, 0, -0.3}, 20, 4, 720, 360), torus({}, 20, 5, 720, 360), 1.2);
  CHECK(m.least.wall_mm == Approx(0.7).epsilon(0.002));
  CHECK(area_under(m.skin, 0.9) == Approx(1511.14180).epsilon(0.005));
}

TEST_CASE("tilted planes: the wall is measured square to the pocket, in big triangles") {
  // d = (t0 + a x + b y) / sqrt(1 + a^2 + b^2), plain geometry; area under 0.9: 5000.09 mm2.
  const TriMesh skin = sheet({-100, 100}, {-50, 50}, 1, 1, [](double, double) { return 0.0; });
  const TriMesh pocket =
      sheet({-150, 150}, {-90, 90}, 1, 1, [](double x, double) { return 1 + 0.002 * x; });
  const WallMeasurement m = measure(pocket, skin, 1.3);
  CHECK(m.least.wall_mm == Approx(0.799998400).epsilon(1e-6));
  CHECK(m.least.skin.x == Approx(-100));
  CHECK(area_under(m.skin, 0.9) == Approx(5000.09).epsilon(0.001));
  REQUIRE(m.least.straight_down_mm.has_value());
  CHECK(*m.least.straight_down_mm == Approx(0.8).epsilon(1e-6));
}

TEST_CASE("hemisphere pocket in a block: least wall and area, two big facets below") {
  // d(rho) = sqrt(rho^2 + H^2) - r, H 26, r 25; area of the face under 1.2: 32.798227 mm2.
  const TriMesh pocket = bowl({}, 25, 512, 256);
  const TriMesh skin = box({-60, -60, -26}, {60, 60, 0});
  const WallMeasurement m = measure(pocket, skin, 1.5);
  CHECK(m.least.wall_mm == Approx(1).epsilon(0.001));
  CHECK(m.least.skin.z == Approx(-26));
  CHECK(length(Vec3{m.least.skin.x, m.least.skin.y, 0}) < 0.5);
  CHECK(area_under(m.skin, 1.2) == Approx(32.798227).epsilon(0.01));
}

TEST_CASE("wedge: two half planes under an angle") {
  // At distance s from the edge the wall is s sin(al): al 10 deg, s 5: 0.868241 (plain geometry).
  const double al = 10 * std::numbers::pi / 180;
  const TriMesh pocket = sheet({5, 60}, {-20, 20}, 1, 1, [](double, double) { return 0.0; });
  const TriMesh skin = sheet({5 * std::cos(al), 60}, {-20, 20}, 1, 1,
                             [&](double x, double) { return -x * std::tan(al); });
  const WallMeasurement m = measure(pocket, skin, 1.5);
  // The skin starts s = 5 from the edge; its nearest pocket point is straight above or at the rim.
  const double at_rim = std::hypot(5 - 5 * std::cos(al), 5 * std::sin(al));
  CHECK(m.least.wall_mm == Approx(at_rim).epsilon(1e-6));
  for (const WallSample& s : m.skin.own_samples())
    if (s.at.x > 5 && s.at.x < 55 && std::abs(s.at.y) < 19)
      REQUIRE(s.wall_mm == Approx(s.at.x * std::tan(al)).epsilon(1e-9));
}

TEST_CASE("a pocket corner over the middle of a flat skin") {
  // The tip stands 0.7 mm over a plate of two facets; no corner of the plate is near.
  for (const double far : {0.0, 10000.0}) {
    const Vec3 shift{far, -far, far};
    const TriMesh pocket = moved(spike({3.3, -7.7, -19.3}, 6, 0), shift);
    const TriMesh skin = moved(box({-100, -80, -20}, {120, 90, 0}), shift);
    const WallMeasurement m = measure(pocket, skin, 1.2);
    CHECK(std::abs(m.least.wall_mm - 0.7) < 1e-9);
    CHECK(m.least.skin.x - far == Approx(3.3));
    CHECK(m.least.n.z == Approx(-1));
    CHECK(m.left_out_area_mm2 == Approx(220 * 170 + 144));
  }
}

TEST_CASE("two edges that pass each other crosswise") {
  // A roof over a keel, ridges at right angles 0.5 mm apart; every corner is far away.
  TriMesh roof, keel;
  roof.vertices = {{-50, 0, -1}, {50, 0, -1}, {0, -50, -40}, {0, 50, -40}};
  roof.triangles = {{0, 2, 1}, {0, 1, 3}};
  keel.vertices = {{0, -50, -0.5}, {0, 50, -0.5}, {-50, 0, 40}, {50, 0, 40}};
  keel.triangles = {{0, 1, 2}, {0, 3, 1}};
  const WallMeasurement m = measure(keel, roof, 1.0);
  CHECK(std::abs(m.least.wall_mm - 0.5) < 1e-9);
  CHECK(std::abs(m.least.skin.x) < 1e-9);
  CHECK(std::abs(m.least.skin.y) < 1e-9);
}

TEST_CASE("nested boxes: equal wall on five sides") {
  const WallMeasurement m =
      measure(box({-20, -15, -9}, {20, 15, 0}), box({-20.9, -15.9, -9.9}, {20.9, 15.9, 0}), 1.5);
  CHECK(std::abs(m.least.wall_mm - 0.9) < 1e-9);
  CHECK(m.left_out_area_mm2 == Approx(40 * 30 + 41.8 * 31.8));
}

TEST_CASE("cut through says how deep") {
  // The pocket's tip reaches 2 mm through the skin's flat.
  const WallMeasurement m =
      measure(spike({0, 0, -22}, 6, 0), box({-100, -80, -20}, {100, 80, 0}), 1.2);
  CHECK(m.intersects);
  CHECK(m.least.wall_mm == Approx(-2).epsilon(0.0005));
  CHECK(m.least.skin.z == Approx(-20));

  // Two sheets that have passed each other everywhere by 0.4 mm, and are not closed.
  const auto flat = [](double z) {
    return sheet({-30, 30}, {-20, 20}, 3, 2, [z](double, double) { return z; });
  };
  const WallMeasurement sheets = measure(flat(-5.4), flat(-5), 1.2);
  CHECK(sheets.least.wall_mm == Approx(-0.4).epsilon(0.0005));
}

TEST_CASE("a coarse body with one facet missing is not cut through by its own lid") {
  TriMesh skin = box({-50, -40, -20}, {50, 40, 0});
  // The first two facets are the bottom; the one under the tip goes.
  skin.triangles.erase(skin.triangles.begin() + 1);
  const WallMeasurement m = measure(spike({20, -10, -19.2}, 6, 0), skin, 1.2);
  CHECK(m.least.wall_mm > 0);
  // The other one: the wall under the tip is still there.
  TriMesh whole = box({-50, -40, -20}, {50, 40, 0});
  whole.triangles.erase(whole.triangles.begin());
  CHECK(std::abs(measure(spike({20, -10, -19.2}, 6, 0), whole, 1.2).least.wall_mm - 0.8) < 1e-9);
}

TEST_CASE("touching surfaces are cut through with no wall") {
  const WallMeasurement m =
      measure(spike({0, 0, -20}, 6, 0), box({-100, -80, -20}, {100, 80, 0}), 1.2);
  CHECK(std::abs(m.least.wall_mm) < 1e-9);
}

TEST_CASE("the answer does not depend on how the meshes are written") {
  const TriMesh pocket = spike({3.3, -7.7, -19.3}, 6, 2); // drawn taller than the board
  const TriMesh skin = box({-40, -30, -20}, {40, 30, 0});
  const double straight = measure(pocket, skin).least.wall_mm;
  CHECK(straight == Approx(0.7).epsilon(1e-9));
  for (unsigned seed = 1; seed <= 5; ++seed) {
    CHECK(std::abs(measure(shuffled(pocket, seed), shuffled(skin, seed)).least.wall_mm - straight) <
          1e-9);
    CHECK(std::abs(
              measure(shuffled(pocket, seed, true), shuffled(skin, seed + 9, true)).least.wall_mm -
              straight) < 1e-9);
  }
  CHECK(std::abs(measure(flipped_facets(pocket), skin).least.wall_mm - straight) < 1e-9);
  CHECK(std::abs(measure(pocket, flipped_facets(skin)).least.wall_mm - straight) < 1e-9);
  CHECK(std::abs(measure(subdivided(pocket), subdivided(subdivided(skin))).least.wall_mm -
                 straight) < 1e-9);
  for (const double deg : {17.0, 90.0, 211.0})
    CHECK(
        std::abs(measure(moved(turned(pocket, deg), {7, 8, 9}), moved(turned(skin, deg), {7, 8, 9}))
                     .least.wall_mm -
                 straight) < 1e-9);
  MeasureOptions fine;
  fine.ceiling_mm = 1.5;
  fine.fine_spacing_mm = 1;
  CHECK(std::abs(measure_wall(pocket, skin, fine, {}).least.wall_mm - straight) < 1e-9);
}
