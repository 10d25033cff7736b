// Volumes against closed forms, CGAL's cut bodies and sums of voxels.
#include "pour/volume_below.h"

#include "peers/reference_library.h"
#include "support/random_shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::shapes;
using doctest::Approx;

TEST_CASE("a box holds its floor times the depth, whatever its facets") {
  const TriMesh body = box({-3, 2, -10}, {5, 7, 0});
  for (const double level : {-10.0, -9.5, -4.0, -0.001, 0.0})
    CHECK(volume_below(body, level, {}) == Approx(8 * 5 * (level + 10)).epsilon(1e-12));
  CHECK(volume_below(body, -11, {}) == 0);
  CHECK(volume_below(subdivided(subdivided(body)), -3.7, {}) == Approx(40 * 6.3).epsilon(1e-12));
  // The lid counts for nothing at its own level, and takes back what stands over it above.
  CHECK(volume_below(body, 5, {}) == Approx(400).epsilon(1e-12));
  CHECK(volume_below(flipped_facets(body), -4, {}) == Approx(-240).epsilon(1e-12));
}

TEST_CASE("a pyramid point down: the cube of the depth over its tip") {
  // Base 2a wide at the top, h deep: (2a)^2 h / 3, scaled by (depth / h)^3 (Euclid XII.7).
  const TriMesh body = spike({1, 2, -12}, 4, 0);
  const double whole = 64.0 * 12 / 3;
  for (const double depth : {0.5, 3.0, 7.0, 11.9, 12.0})
    CHECK(volume_below(body, -12 + depth, {}) ==
          Approx(whole * std::pow(depth / 12, 3)).epsilon(1e-12));
  // Two levels give the frustum: h / 3 (A + B + sqrt(A B)), with A and B its two faces.
  const double a = std::pow(8 * 4.0 / 12, 2), b = std::pow(8 * 9.0 / 12, 2);
  CHECK(volume_below(body, -3, {}) - volume_below(body, -8, {}) ==
        Approx(5.0 / 3 * (a + b + std::sqrt(a * b))).epsilon(1e-12));
}

// Cap of height h of a sphere: pi h^2 (3 r - h) / 3. The corners of the mesh lie on the sphere, so
// that a finer mesh holds more, with an error that falls as the square of the step.
TEST_CASE("caps of a hemisphere, halving the step") {
  const double r = 25;
  for (const double h : {12.5, 25.0, 3.0}) {
    const double exact = std::numbers::pi * h * h * (3 * r - h) / 3;
    const double coarse = exact - volume_below(bowl({}, r, 64, 32), h - r, {}),
                 fine = exact - volume_below(bowl({}, r, 128, 64), h - r, {});
    CHECK(fine > 0);
    CHECK(fine < 2e-3 * exact);
    CHECK(coarse / fine == Approx(4).epsilon(0.03));
  }
}

TEST_CASE("a sloping level in a box: a wedge in closed form, cut corners included") {
  const TriMesh body = box({0, 0, -10}, {20, 6, 0});
  // Wet over the whole floor: floor times the depth in its middle.
  CHECK(volume_below(body, SlopingLevel{-6, 0.1, 1, 0}, {}) == Approx(20 * 6 * (4 + 1)));
  // Dry where x < 10: a wedge 10 long that ends 5 deep.
  CHECK(volume_below(body, SlopingLevel{-15, 0.5, 1, 0}, {}) == Approx(6 * 10 * 5 / 2.0));
  // Over the rim it stands straight up on the floor's outline (the lid left out).
  TriMesh open = body;
  std::erase_if(open.triangles, [&](const Tri& t) {
    return std::ranges::all_of(t, [&](std::uint32_t v) { return open.vertices[v].z == 0; });
  });
  CHECK(volume_below(open, SlopingLevel{-1, 0.1, 1, 0}, {}) == Approx(20 * 6 * 10));
  CHECK(volume_below(open, SlopingLevel{-1, 0.1, 0, 1}, {}) == Approx(20 * 6 * (9 + 0.3)));
}

TEST_CASE("random bodies against CGAL, level and sloping") {
  for (const unsigned seed : {1U, 2U, 3U, 4U}) {
    CAPTURE(seed);
    const TriMesh body = bumpy_ball(seed, 20, 8, 40);
    for (const double level : {-17.3, -9.1, 0.4, 11.0}) {
      CAPTURE(level);
      // Below the highest place of its edge the surface is not that of a pocket: cut from above
      // first, which is what a level does to a body.
      CHECK(volume_below(body, level, {}) ==
            Approx(peers::volume_below_plane(body, level)).epsilon(1e-9));
    }
    for (const double slope : {0.05, -0.4})
      CHECK(volume_below(body, SlopingLevel{-3, slope, 1, 0}, {}) ==
            Approx(peers::volume_below_plane(body, -3, slope)).epsilon(1e-9));
  }
}

TEST_CASE("a random body against a sum of voxels that CGAL calls inside") {
  const TriMesh body = bumpy_ball(9, 10, 5, 24);
  const peers::PointDistance inside(body);
  const double level = 2.25, step = 0.5;
  double sum = 0;
  for (double x = -16.03; x < 16; x += step)
    for (double y = -16.01; y < 16; y += step)
      for (double z = level - step / 2; z > -16; z -= step)
        sum += inside.inside({x, y, z}) ? step * step * step : 0;
  CHECK(volume_below(body, level, {}) == Approx(sum).epsilon(0.005));
}

TEST_CASE("the same on any number of threads, and the sum over parts is that of the whole") {
  const TriMesh body =
      joined(bumpy_ball(3, 20, 8, 200), moved(bumpy_ball(4, 15, 3, 150), {90, 0, 0}));
  const double many = volume_below(body, -2.5, {});
  {
    const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
    CHECK(volume_below(body, -2.5, {}) == many);
  }
  const std::vector<TriMesh> parts = connected_parts(body);
  REQUIRE(parts.size() == 2);
  CHECK(volume_below(parts[0], -2.5, {}) + volume_below(parts[1], -2.5, {}) ==
        Approx(many).epsilon(1e-12));
  CHECK(parts[0].triangles.size() + parts[1].triangles.size() == body.triangles.size());
}

TEST_CASE("pools: two hollows with a saddle between them") {
  // z = (x^2 / 50 - 2)^2 + y^2 / 20 - 4: two hollows 4 deep at x = +-10, a saddle at height 0.
  const TriMesh saddle = sheet({-16, 16}, {-10, 10}, 64, 40, [](double x, double y) {
    return std::pow(x * x / 50 - 2, 2) + y * y / 20 - 4;
  });
  CHECK(pools_below(saddle, -4.5) == 0);
  CHECK(pools_below(saddle, -0.5) == 2);
  CHECK(pools_below(saddle, 0.3) == 1);
}
