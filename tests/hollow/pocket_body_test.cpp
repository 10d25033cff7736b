// Pockets that a ball bit can take away, against spheres, boxes and wedges in closed form.
#include "hollow/pocket_body.h"

#include "mesh/inspect_mesh.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace leastwall;
using doctest::Approx;

namespace {

/// The skin without its lid, and the body that leaves a wall of `wall` in it.
struct Made {
  TriMesh skin;
  ClosestSurface near;
  VerticalRayGrid columns;
  TriMesh pocket;

  Made(TriMesh open_skin, double radius, double wall, double step, double deepest = kNoDepth,
       double upright = 0)
      : skin(std::move(open_skin)), near(skin), columns(skin) {
    const Box box = skin.box();
    const Lattice at = lattice_round(box, radius, step);
    const BallDepthsInput input{
        near, columns, 0, radius, deepest, [wall](Vec3, Vec3) { return wall; }, wall, upright};
    pocket = pocket_body(ball_depths(input, at, {}), radius, 0, {});
  }

  double least_wall() const {
    const ClosestSurface to(pocket);
    double least = 1e9;
    for (const Tri& t : skin.triangles)
      if (const auto pair = to.nearest_to_triangle(
              {skin.vertices[t[0]], skin.vertices[t[1]], skin.vertices[t[2]]}, least))
        least = std::min(least, pair->distance);
    return least;
  }
};

/// A box without its top.
TriMesh tray(double x, double y, double z) {
  TriMesh box = shapes::box({-x, -y, -z}, {x, y, 0});
  std::erase_if(box.triangles, [&box](const Tri& t) {
    return std::ranges::all_of(t, [&box](std::uint32_t v) { return box.vertices[v].z == 0; });
  });
  return box;
}

} // namespace

// Source: solid geometry. A box less the wall all round, its floor's edges and corners rounded by
// the ball: 4 - pi of a quarter square along each edge, and what a ball leaves in a corner.
TEST_CASE(
    "a box is hollowed to a box with the ball's edges, closed, with the wall that was asked for") {
  const double r = 2, w = 1.5;
  const Made made(tray(30, 20, 15), r, w, 0.25);
  CHECK(inspect_mesh(made.pocket).sound());
  const double x = 60 - 2 * w, y = 40 - 2 * w, z = 15 - w, a = r * r * (1 - std::numbers::pi / 4);
  // Upright corners are rounded too: the bit is round.
  const double uprights = 4 * a * (z - r);
  const double floor_edges = a * (2 * (x - 2 * r) + 2 * (y - 2 * r));
  const double ball_corners = 8 * r * r * r / 2 - 4.0 / 3 * std::numbers::pi * r * r * r / 2;
  CHECK(volume_mm3(made.pocket) ==
        Approx(x * y * z - uprights - floor_edges - ball_corners).epsilon(0.01));
  const double least = made.least_wall();
  CHECK(least >= w - 1e-6);
  CHECK(least <= w + 0.25 + kWalk_mm); // no farther than a step of the lattice
}

TEST_CASE("half a sphere is hollowed to a smaller one about the same middle") {
  const double r = 1.5, w = 1;
  const Made made(shapes::bowl({0, 0, 0}, 25, 160, 80), r, w, 0.2);
  CHECK(inspect_mesh(made.pocket).sound());
  CHECK(volume_mm3(made.pocket) ==
        Approx(2.0 / 3 * std::numbers::pi * std::pow(25 - w, 3)).epsilon(0.01));
  CHECK(made.least_wall() > w - 0.01);
  CHECK(made.least_wall() < w + 0.1);
}

TEST_CASE("a wedge ends where the ball does not fit, and a depth that is stated caps it") {
  // A trough with walls at 45 degrees, 12 deep: with a wall w and a ball r the middle stays
  // (w + r) sqrt 2 above the bottom line.
  TriMesh trough =
      shapes::sheet({-12, 12}, {-20, 20}, 24, 8, [](double x, double) { return std::abs(x) - 12; });
  const double r = 1.5, w = 0.8;
  const Made made(trough, r, w, 0.25);
  double lowest = 0;
  for (const Vec3& v : made.pocket.vertices)
    lowest = std::min(lowest, v.z);
  CHECK(lowest == Approx(-12 + (w + r) * std::sqrt(2.0) - r).epsilon(0.002));
  const Made shallow(trough, r, w, 0.25, 4);
  for (const Vec3& v : shallow.pocket.vertices)
    lowest = std::max(lowest, -v.z);
  double deepest = 0;
  for (const Vec3& v : shallow.pocket.vertices)
    deepest = std::min(deepest, v.z);
  CHECK(deepest == Approx(-4));
}

TEST_CASE("the mouth stands upright as deep as was asked") {
  const TriMesh trough =
      shapes::sheet({-12, 12}, {-20, 20}, 24, 8, [](double x, double) { return std::abs(x) - 12; });
  const double r = 1.5, w = 0.8, upright = 3;
  const Made made(trough, r, w, 0.25, kNoDepth, upright);
  CHECK(inspect_mesh(made.pocket).sound());
  // Where the wall of a corner lies under the face, the outline does not move until 3 deep.
  double widest = 0, widest_at_3 = 0;
  for (const Vec3& v : made.pocket.vertices) {
    widest = std::max(widest, v.x);
    if (v.z > -upright)
      widest_at_3 = std::max(widest_at_3, v.x);
  }
  CHECK(widest == Approx(widest_at_3));
  for (const Vec3& v : made.pocket.vertices)
    if (v.z < 0 && v.z > -upright)
      CHECK(v.z <= -upright + 0.05);
}

TEST_CASE("nothing is made where the bit cannot go, and the result is the same on each run") {
  CHECK(Made(tray(3, 3, 10), 2, 1.5, 0.25).pocket.triangles.empty());
  const Made a(tray(12, 9, 8), 1, 0.7, 0.3), b(tray(12, 9, 8), 1, 0.7, 0.3);
  CHECK(a.pocket.vertices == b.pocket.vertices);
  CHECK(a.pocket.triangles == b.pocket.triangles);
}

// Source: the meaning of it, checked ball by ball.
TEST_CASE("every point of the floor is touched by a ball that lies within the body's floor") {
  const double r = 2, w = 1;
  const auto wavy = [](double x, double y) {
    return -14 + 2 * std::sin(x / 4) + 1.5 * std::cos(y / 3) + 0.02 * (x * x + y * y);
  };
  const TriMesh skin = shapes::sheet({-22, 22}, {-22, 22}, 88, 88, wavy);
  const Made made(skin, r, w, 0.25);
  CHECK(made.least_wall() > w - 0.05);
  // A ball that stands on the floor anywhere with its middle straight above never sinks below it by
  // more than the lattice: no feature is narrower than the bit.
  const VerticalRayGrid floor(made.pocket);
  int asked = 0;
  for (double x = -10; x <= 10; x += 2.7)
    for (double y = -10; y <= 10; y += 3.1) {
      const auto here = floor.lowest(x, y);
      if (!here)
        continue;
      // The ball lowest over x, y that stays above the floor all round.
      double best = 1e9;
      for (double u = -r; u <= r; u += 0.2)
        for (double v = -r; v <= r; v += 0.2) { // its middle over x + u, y + v
          if (u * u + v * v > r * r)
            continue;
          double middle = -1e9;
          for (double p = -r; p <= r; p += 0.2)
            for (double q = -r; q <= r; q += 0.2)
              if (p * p + q * q <= r * r)
                if (const auto z = floor.lowest(x + u + p, y + v + q))
                  middle = std::max(middle, *z + std::sqrt(r * r - p * p - q * q));
          best = std::min(best, middle - std::sqrt(r * r - u * u - v * v));
        }
      ++asked;
      CHECK(best - *here < 0.06);
    }
  CHECK(asked > 20);
}
