// A flat wall is one that the corners tell of: yes only where points all over the cell say the
// same.
#include "wall/sampling/flat_wall.h"

#include "support/shapes.h"
#include "wall/sheet_probe.h"

#include <cmath>
#include <doctest/doctest.h>
#include <functional>
#include <limits>
#include <random>

using namespace leastwall;

namespace {

/// A pocket floor and the cell (of a skin under it) that is asked.
struct Asked {
  TriMesh floor;
  TriangleCorners cell;

  /// Greatest difference between the walls all over the cell and what its corners say, mm.
  double off = 0, off_thinner = 0;

  bool flat(bool only_thinner) {
    const SheetProbe asked(floor);
    const auto read = [&](Vec3 p) { return asked.probe.read(p, {0, 0, -1}, std::nullopt); };
    MeasuredCell measured;
    for (std::size_t k = 0; k < 3; ++k) {
      const WallProbe::Reading r = read(cell[k]);
      measured.corner[k] = r.sample;
      measured.nearest[k] = r.triangle;
    }
    constexpr int kParts = 40;
    off = off_thinner = 0;
    for (int i = 0; i <= kParts; ++i)
      for (int k = 0; i + k <= kParts; ++k) {
        const double a = double(i) / kParts, b = double(k) / kParts, c = 1 - a - b;
        const double wall = read(cell[0] * c + cell[1] * a + cell[2] * b).sample.wall_mm;
        const double told = c * measured.corner[0].wall_mm + a * measured.corner[1].wall_mm +
                            b * measured.corner[2].wall_mm;
        off = std::max(off, std::abs(wall - told));
        off_thinner = std::max(off_thinner, told - wall);
      }
    return flat_wall(measured, asked.surface, only_thinner);
  }
};

TriMesh floor_of(int n, const std::function<double(double, double)>& z) {
  return shapes::sheet({-10, 10}, {-10, 10}, n, n, z);
}
const TriangleCorners kCell{Vec3{-0.7, -0.4, -1}, Vec3{0.9, -0.5, -1.2}, Vec3{0.1, 0.8, -1.1}};

} // namespace

TEST_CASE("over one facet, and over many in one plane, a wall is flat; also one that thickens") {
  for (const int n : {1, 7, 40}) {
    Asked asked{floor_of(n, [](double x, double y) { return 0.1 * x - 0.05 * y; }), kCell};
    CHECK(asked.flat(false));
    CHECK(asked.flat(true));
    CHECK(asked.off < 1e-9);
  }
}

TEST_CASE("a dent between the corners makes the wall thicker, a bump thinner") {
  // 0.02 mm deep or high, in the middle of the cell; the corners stand over the plain.
  const auto shaped = [](double height) {
    return floor_of(80, [height](double x, double y) {
      return std::abs(x - 0.0) < 0.2 && std::abs(y) < 0.2 ? height : 0.0;
    });
  };
  Asked dent{shaped(0.02), kCell};
  CHECK_FALSE(dent.flat(false));
  CHECK(dent.flat(true));
  CHECK(dent.off > 0.01);
  CHECK(dent.off_thinner < kFlatWall_mm);
  Asked bump{shaped(-0.02), kCell};
  CHECK_FALSE(bump.flat(false));
  CHECK_FALSE(bump.flat(true));
  CHECK(bump.off_thinner > 0.01);
  // Beyond the floor, in the air, a dent takes the cut-through less deep and a bump deeper.
  const auto above = [](Asked asked) {
    for (Vec3& corner : asked.cell)
      corner.z = -corner.z;
    return asked;
  };
  CHECK_FALSE(above(dent).flat(true));
  CHECK_FALSE(above(bump).flat(true));
  // Far from the cell neither matters.
  Asked far{shaped(-0.02),
            {kCell[0] + Vec3{5, 5, 0}, kCell[1] + Vec3{5, 5, 0}, kCell[2] + Vec3{5, 5, 0}}};
  CHECK(far.flat(false));
}

TEST_CASE(
    "under a long strip of a cylinder, two triangles that others curve away from, it is flat") {
  // 500 strips of 200 mm on a radius of 20 mm; the cell lies under both triangles of one.
  const double step = 3.14159265358979 / 500;
  TriMesh strips;
  for (int i = 0; i <= 500; ++i)
    for (const double x : {-100.0, 100.0})
      strips.vertices.push_back({x, 20 * std::cos(step * i), -20 * std::sin(step * i)});
  for (std::uint32_t i = 0; i < 500; ++i) {
    strips.triangles.push_back({2 * i, 2 * i + 1, 2 * i + 3});
    strips.triangles.push_back({2 * i, 2 * i + 3, 2 * i + 2});
  }
  const auto at = [&](double x, double i) {
    return Vec3{x, 20.9 * std::cos(step * i), -20.9 * std::sin(step * i)};
  };
  Asked asked{strips, {at(-1, 250), at(1, 250), at(-0.8, 251)}};
  CHECK(asked.flat(false));
  CHECK(asked.off < kFlatWall_mm);
  // Over the edge between two strips as well; not where the cell spans many.
  CHECK_FALSE(Asked{strips, {at(-1, 250), at(1, 250), at(-0.8, 270)}}.flat(false));
}

TEST_CASE("walls beside an edge, around a corner and on both sides of zero are not flat") {
  const auto roof = [](double x, double) { return -0.5 * std::abs(x); }; // edge up, over the cell
  CHECK_FALSE(Asked{floor_of(20, roof), kCell}.flat(false));
  const auto valley = [](double x, double) { return 0.5 * std::abs(x); };
  CHECK_FALSE(Asked{floor_of(20, valley), kCell}.flat(true));
  // Beyond the rim of the floor the nearest point is on the rim.
  Asked rim{floor_of(1, [](double, double) { return 0.0; }),
            {Vec3{9.5, 0, -1}, Vec3{11, -0.6, -1}, Vec3{11, 0.6, -1}}};
  CHECK_FALSE(rim.flat(true));
  CHECK(rim.off_thinner > -1e-12);
  Asked through{floor_of(1, [](double, double) { return 0.0; }),
                {Vec3{-1, -0.4, -0.1}, Vec3{1, -0.5, 0.1}, Vec3{0, 0.8, -0.1}}};
  CHECK_FALSE(through.flat(true));
}

TEST_CASE("never flat where points between the corners say otherwise") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> in(-1, 1);
  int yes = 0, only_thinner = 0, no = 0;
  for (int i = 0; i < 600; ++i) {
    // Planes with a few kinks of any size between a hair and a tenth of a millimetre.
    const double slope = 0.3 * in(random), kink = std::pow(10, 2 * in(random)-3.3) * in(random);
    const double at = 1.5 * in(random), wide = 0.2 + std::abs(in(random));
    Asked asked{floor_of(60,
                         [&](double x, double y) {
                           return slope * y + kink * std::max(0.0, 1 - std::abs(x - at) / wide);
                         }),
                {}};
    for (Vec3& corner : asked.cell)
      corner = {in(random), in(random), -0.8 + 0.2 * in(random)};
    if (asked.flat(false)) {
      ++yes;
      REQUIRE(asked.off < kFlatWall_mm);
    } else if (asked.flat(true)) {
      ++only_thinner;
      REQUIRE(asked.off_thinner < kFlatWall_mm);
    } else {
      ++no;
    }
  }
  CHECK(yes > 100);
  CHECK(only_thinner > 5);
  CHECK(no > 100);
}
