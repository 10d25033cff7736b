#include "bed/bed_map.h"
#include "bed/triangulation.h"

#include "base/errors.h"
#include "support/build_kind.h"

#include <chrono>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

namespace {

using Readings = std::vector<Vec3>;

/// A surface that is linear in x for fixed y and in y for fixed x: bilinear cells keep it exactly.
double twisted(double x, double y) {
  return 0.1 + 0.002 * x - 0.001 * y + 3e-5 * x * y;
}
double plane(double x, double y) {
  return 0.05 - 0.0007 * x + 0.0013 * y;
}

BedMap twisted_grid(std::vector<double> xs, std::vector<double> ys) {
  std::vector<std::optional<double>> z;
  for (double y : ys)
    for (double x : xs)
      z.emplace_back(twisted(x, y));
  return BedMap::grid(xs, ys, z);
}

} // namespace

TEST_CASE("a grid is bilinear between its readings") {
  // Closed form: bilinear interpolation reproduces a + bx + cy + dxy, on uneven pitches too.
  const BedMap map = twisted_grid({0, 10, 40, 100}, {-50, 0, 25});
  for (double x : {0.0, 3.3, 10.0, 39.999, 77.0, 100.0})
    for (double y : {-50.0, -12.5, 0.0, 24.0, 25.0}) {
      CAPTURE(x);
      CAPTURE(y);
      REQUIRE(map.height_mm(x, y));
      CHECK(*map.height_mm(x, y) == doctest::Approx(twisted(x, y)).epsilon(1e-12));
      CHECK(map.distance_outside_mm(x, y) == 0.0);
    }
  CHECK(map.points().size() == 12);
  CHECK(map.is_grid());
}

TEST_CASE("outside the readings there is no height, only a distance") {
  const BedMap map = twisted_grid({0, 100}, {0, 50});
  CHECK_FALSE(map.height_mm(-0.001, 20));
  CHECK_FALSE(map.height_mm(50, 50.01));
  CHECK_FALSE(map.height_mm(std::nan(""), 20));
  CHECK(map.distance_outside_mm(-3, 20) == doctest::Approx(3));
  CHECK(map.distance_outside_mm(103, 54) == doctest::Approx(5)); // 3-4-5 triangle past a corner
}

TEST_CASE("scattered readings of a plane give the plane, inside their hull only") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> u(0, 300);
  Readings readings;
  for (int i = 0; i < 400; ++i) {
    const double x = u(random), y = u(random);
    readings.push_back({x, y, plane(x, y)});
  }
  const BedMap map = BedMap::from_readings(readings);
  CHECK_FALSE(map.is_grid());
  int inside = 0, outside = 0;
  for (int i = 0; i < 2000; ++i) {
    const double x = u(random) * 1.2 - 30, y = u(random) * 1.2 - 30;
    const auto z = map.height_mm(x, y);
    if (map.distance_outside_mm(x, y) > 1e-3) {
      CHECK_FALSE(z);
      ++outside;
    } else {
      REQUIRE(z);
      CHECK(std::fabs(*z - plane(x, y)) < 1e-12);
      ++inside;
    }
  }
  CHECK(inside > 1000);
  CHECK(outside > 300);
}

TEST_CASE("triangles are Delaunay: no reading inside the circle of any triangle") {
  // The defining property (Delaunay 1934), checked by brute force; and Euler's formula:
  // triangles = 2n - 2 - hull corners.
  std::mt19937 random(5);
  std::uniform_real_distribution<double> u(-100, 100);
  Readings p;
  for (int i = 0; i < 150; ++i)
    p.push_back({u(random), u(random), 0});
  const Triangulation t(p);
  CHECK(t.triangles().size() == 2 * p.size() - 2 - BedMap::scattered(p).outline().size());
  for (const auto& tri : t.triangles()) {
    const Vec3 a = p[tri[0]], b = p[tri[1]], c = p[tri[2]];
    const double d = 2 * cross(b - a, c - a).z;
    REQUIRE(d > 0);
    const Vec3 ab = b - a, ac = c - a;
    const Vec3 centre{a.x + (ac.y * dot(ab, ab) - ab.y * dot(ac, ac)) / d,
                      a.y + (ab.x * dot(ac, ac) - ac.x * dot(ab, ab)) / d, 0};
    const double radius = distance(a, centre);
    for (const Vec3& q : p)
      CHECK(distance(q, centre) > radius * (1 - 1e-6));
  }
}

TEST_CASE("whole-number grids and circles, all ties, still cover their area once") {
  Readings p;
  for (int j = 0; j < 20; ++j)
    for (int i = 0; i < 30; ++i)
      p.push_back({i * 10.0, j * 10.0, 0});
  double area = 0;
  const Triangulation grid_triangles(p);
  for (const auto& t : grid_triangles.triangles())
    area += cross(p[t[1]] - p[t[0]], p[t[2]] - p[t[0]]).z / 2;
  CHECK(area == doctest::Approx(290.0 * 190.0)); // the rectangle
  p.clear();
  const double pi = std::acos(-1.0);
  for (int i = 0; i < 64; ++i)
    p.push_back({100 * std::cos(i * pi / 32), 100 * std::sin(i * pi / 32), 0});
  area = 0;
  const Triangulation circle_triangles(p);
  for (const auto& t : circle_triangles.triangles())
    area += cross(p[t[1]] - p[t[0]], p[t[2]] - p[t[0]]).z / 2;
  CHECK(area == doctest::Approx(32 * 1e4 * std::sin(pi / 32))); // regular 64-gon
}

TEST_CASE("a missing reading inside a grid is bridged by its neighbours") {
  std::vector<double> xs{0, 10, 20, 30}, ys{0, 10, 20, 30};
  std::vector<std::optional<double>> z;
  for (double y : ys)
    for (double x : xs)
      z.emplace_back(plane(x, y));
  z[5].reset();  // inside
  z[15].reset(); // a corner
  const BedMap map = BedMap::grid(xs, ys, z);
  CHECK(map.missing() == 2);
  CHECK(map.points().size() == 14);
  CHECK(*map.height_mm(10, 10) == doctest::Approx(plane(10, 10)));
  CHECK(*map.height_mm(14, 6) == doctest::Approx(plane(14, 6)));
  CHECK_FALSE(map.height_mm(29, 29)); // beyond the cut-off corner
  CHECK(map.distance_outside_mm(30, 30) == doctest::Approx(10 / std::sqrt(2.0)));
}

TEST_CASE("readings on one line give heights on that line") {
  const Readings row{{0, 0, 0}, {200, 100, 0.4}, {100, 50, 0.1}};
  const BedMap map = BedMap::from_readings(row);
  CHECK(*map.height_mm(150, 75) == doctest::Approx(0.25));
  CHECK(*map.height_mm(50, 25) == doctest::Approx(0.05));
  CHECK_FALSE(map.height_mm(50, 30));
  CHECK_FALSE(map.height_mm(202, 101));
  CHECK(map.distance_outside_mm(200, 110) == doctest::Approx(10));
  const BedMap one = BedMap::from_readings(Readings{{5, 6, 0.7}});
  CHECK(*one.height_mm(5, 6) == 0.7);
  CHECK_FALSE(one.height_mm(5, 7));
}

TEST_CASE("many readings on one line: between the two beside a place, as all of them tell") {
  // Every 0.25 mm along 3, 4, in a stirred order; by hand z = a saw tooth of 1 mm.
  const auto z_of = [](int i) { return 0.01 * (i * 7 % 13); };
  Readings row;
  constexpr int n = 997;
  for (int k = 0; k < n; ++k) {
    const int i = k * 101 % n;
    row.push_back({0.15 * i, 0.2 * i, z_of(i)});
  }
  const BedMap map = BedMap::scattered(row);
  for (int i = 0; i + 1 < n; ++i) {
    CAPTURE(i);
    CHECK(*map.height_mm(0.15 * i, 0.2 * i) == doctest::Approx(z_of(i)));
    for (const double s : {0.25, 0.7}) {
      const double at = i + s;
      CHECK(*map.height_mm(0.15 * at, 0.2 * at) ==
            doctest::Approx(z_of(i) + s * (z_of(i + 1) - z_of(i))));
      BedMap::Weights weights;
      const std::size_t used = map.weights_at(0.15 * at, 0.2 * at, weights);
      REQUIRE(used == 2);
      double sum = 0;
      for (std::size_t k = 0; k < used; ++k)
        sum += weights[k].weight * map.points()[weights[k].reading].z;
      CHECK(sum == doctest::Approx(*map.height_mm(0.15 * at, 0.2 * at)));
    }
  }
}

TEST_CASE("places read twice count once, with the mean") {
  const Readings p{{0, 0, 0}, {100, 0, 0}, {0, 70, 0}, {0, 0, 0.2}, {90, 60, 0.1}};
  const BedMap map = BedMap::from_readings(p);
  CHECK(map.points().size() == 4);
  CHECK(*map.height_mm(0, 0) == doctest::Approx(0.1));
}

TEST_CASE("lowest, highest, and rows in any order") {
  const Readings p{{20, 10, 0.3}, {0, 10, -0.2}, {20, 0, 0.1}, {0, 0, 0}};
  const BedMap map = BedMap::from_readings(p);
  CHECK(map.is_grid());
  CHECK(map.lowest() == Vec3{0, 10, -0.2});
  CHECK(map.highest() == Vec3{20, 10, 0.3});
  CHECK(map.points().front() == Vec3{0, 0, 0});
}

TEST_CASE("what is no map is refused") {
  const std::vector<std::optional<double>> four{0, 0, 0, 0}, none(4);
  CHECK_THROWS_AS(BedMap::grid({0, 1}, {0, 1, 2}, four), InputError);
  CHECK_THROWS_AS(BedMap::grid({0, 0}, {0, 1}, four), InputError);
  CHECK_THROWS_AS(BedMap::grid({0, 1}, {0, 1}, none), InputError);
  CHECK_THROWS_AS(BedMap::scattered(Readings{}), InputError);
  CHECK_THROWS_AS(BedMap::scattered(Readings{{0, 0, std::nan("")}}), InputError);
}

TEST_CASE("five thousand scattered readings are ready in under a second") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> u(0, 600);
  Readings p;
  for (int i = 0; i < 5000; ++i)
    p.push_back({u(random), u(random), u(random) * 1e-3});
  const auto start = std::chrono::steady_clock::now();
  const BedMap map = BedMap::from_readings(p);
  double sum = 0;
  for (int i = 0; i < 20000; ++i)
    sum += map.height_mm(u(random), u(random)).value_or(0);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  CHECK(sum > 0);
#ifdef NDEBUG
  CHECK(took.count() < test::by_build(1.0, 20.0));
#endif
  MESSAGE("5000 scattered readings and 20000 look-ups: " << took.count() << " s");
}

TEST_CASE("a grid with half of its crossings read is a grid; with one less it is scattered") {
  // Sixteen crossings, every other one read: eight are half, seven are less.
  std::vector<Vec3> readings;
  for (int j = 0; j < 4; ++j)
    for (int i = 0; i < 4; ++i)
      if ((i + j) % 2 == 0)
        readings.push_back({10.0 * i, 10.0 * j, 0.1 * i + 0.01 * i * j});
  REQUIRE(readings.size() == 8);
  CHECK(BedMap::from_readings(readings).missing() == 8);
  readings.pop_back(); // its row and its column have another reading
  CHECK(BedMap::from_readings(readings).missing() == 0);
}
