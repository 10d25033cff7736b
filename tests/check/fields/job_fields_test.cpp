// Fields read back with OpenVDB's own tools, against shapes in closed form.
#include "check/fields/job_fields.h"

#include "check/job_folder.h"
#include "peers/vdb_reader.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

const std::string kJob = R"(
units = "mm"
limit = 1.2
[board]
thickness = 40
[side_a]
zero = "top"
touch_off = 0.05
[side_b]
zero = "bed"
touch_off = 0.05
[[part]]
skin = "skin.stl"
[[part.pocket]]
name = "room"
mesh = "pocket.stl"
)";

/// Signed distance to a box, negative inside.
double box_distance(Vec3 p, Vec3 low, Vec3 high) {
  const Vec3 out{std::max({low.x - p.x, p.x - high.x, 0.0}),
                 std::max({low.y - p.y, p.y - high.y, 0.0}),
                 std::max({low.z - p.z, p.z - high.z, 0.0})};
  if (length(out) > 0)
    return length(out);
  return -std::min(
      {p.x - low.x, high.x - p.x, p.y - low.y, high.y - p.y, p.z - low.z, high.z - p.z});
}

} // namespace

TEST_CASE("both surfaces and the wall of a box in a box, as OpenVDB reads them") {
  Folder f;
  const Vec3 low{-15, -12, -20}, high{15, 12, 0}, in_low{-12, -10, -18}, in_high{12, 10, 0};
  f.mesh("skin.stl", shapes::box(low, high));
  f.mesh("pocket.stl", shapes::box(in_low, in_high));
  const JobFields fields(f.input(kJob));
  const std::string bytes = fields.bytes({});
  const peers::VdbReader read(bytes);
  CHECK(read.names() == std::vector<std::string>{"skin", "pocket", "wall"});
  for (const char* grid : {"skin", "pocket"}) {
    CHECK(read.level_set(grid));
    CHECK(read.voxel_mm(grid) == Approx(0.4)); // a third of the limit
    CHECK(read.background(grid) == Approx(3 * 0.4));
    CHECK(read.metadata(grid, "unit") == "mm");
  }
  // OpenVDB's own sums over the level set, to a part of the voxel at edges and corners.
  CHECK(read.volume_mm3("skin") == Approx(30 * 24 * 20).epsilon(0.01));
  CHECK(read.volume_mm3("pocket") == Approx(24 * 20 * 18).epsilon(0.01));
  CHECK(read.area_mm2("skin") == Approx(2 * (30 * 24 + 24 * 20 + 30 * 20)).epsilon(0.03));
  // Exact at the middle of every voxel.
  double most = 0;
  std::size_t band = 0;
  for (const auto& [value, middle] : read.all("skin")) {
    most = std::max(most, std::abs(value - box_distance(middle, low, high)));
    ++band;
  }
  CHECK(most < 2e-6);
  CHECK(band > 2 * 3 * (30 * 24 * 2) / 0.16); // two sides, three voxels deep, over the two flats
  CHECK(read.value("skin", {0, 0, -10}) == Approx(-1.2));
  CHECK(read.value("skin", {0, 0, 30}) == Approx(1.2));
  // The wall: 2 mm under the floor, 3 and 2 at the sides; on the pocket face down to nothing.
  CHECK(read.at("wall", {0, 0, -20})->value == Approx(2).epsilon(1e-6));
  CHECK(read.at("wall", {15, 0, -9})->value == Approx(3).epsilon(1e-6));
  CHECK(read.at("wall", {0, -12, -9})->value == Approx(2).epsilon(1e-6));
  CHECK_FALSE(read.at("wall", {0, 0, -18}));
  for (const auto& [value, middle] : read.all("wall")) {
    const double on_skin = std::abs(box_distance(middle, low, high));
    CHECK(on_skin <= std::sqrt(3.0) / 2 * 0.4 + 1e-6);
    if (middle.z < -0.5) { // the nearest place of the skin is within half a diagonal
      const double about = box_distance(middle, in_low, in_high);
      CHECK(std::abs(value - about) <= on_skin + 1e-5);
    }
  }
}

TEST_CASE("a wall that is cut through is negative, and open sheets have a sign, too") {
  Folder f;
  f.mesh("skin.stl",
         shapes::sheet({-20, 20}, {-20, 20}, 40, 40, [](double, double) { return -10.0; }));
  f.mesh("pocket.stl", shapes::sheet({-20, 20}, {-20, 20}, 40, 40, [](double x, double) {
           return -9.5 - 0.05 * x; // through the skin where x is over 10
         }));
  const peers::VdbReader read(JobFields(f.input(kJob)).bytes({}));
  CHECK_FALSE(read.level_set("skin"));
  const auto over = read.at("skin", {0, 0, -9.2}), under = read.at("skin", {0, 0, -10.8});
  REQUIRE(over);
  REQUIRE(under);
  CHECK(over->value == Approx(-(over->middle.z + 10)).epsilon(1e-5));
  CHECK(under->value == Approx(-10 - under->middle.z).epsilon(1e-5));
  const double slope = std::hypot(1, 0.05);
  for (const double x : {-12.0, 0.0, 14.0, 18.0}) {
    const auto wall = read.at("wall", {x, 0, -10});
    REQUIRE(wall);
    CHECK(wall->value == Approx((0.5 - 0.05 * wall->middle.x) / slope).epsilon(1e-4));
  }
}

TEST_CASE("fields are the same bytes on one thread and on many") {
  Folder f;
  f.mesh("skin.stl", shapes::bowl({0, 0, 0}, 12, 48, 16));
  f.mesh("pocket.stl", shapes::bowl({0, 0, 0}, 10, 48, 16));
  const JobFields fields(f.input(kJob));
  const std::string many = fields.bytes({});
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  CHECK(fields.bytes({}) == many);
}

TEST_CASE("the voxel grows with the surface until its field is small enough") {
  const TriMesh small = shapes::sphere({0, 0, 0}, 10, 48, 24);
  CHECK(field_voxel_mm(small, 0.2) == Approx(0.2));
  // A band of 3 voxels on each side and 3 more: 9 A / v2 voxels of a sphere of 200 mm.
  const double area = 4 * std::numbers::pi * 200 * 200;
  const double voxel = field_voxel_mm(shapes::sphere({0, 0, 0}, 200, 96, 48), 0.2);
  CHECK(9 * area / (voxel * voxel) <= 3e6);
  CHECK(9 * area / (voxel * voxel) >= 3e6 / 1.1 / 1.1 / 1.1);
}
