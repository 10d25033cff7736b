// The whole use case on pieces whose walls are known by hand.
#include "check/check_piece.h"

#include "bed/bed_map.h"
#include "budget/effects/reach.h"
#include "mesh/inspect_mesh.h"
#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <memory>
#include <utility>
#include <vector>

using namespace leastwall;
using doctest::Approx;

namespace {

/// A plain tray, 580 x 380 mm, floor 0.8 mm thick: two large facets on either face of the floor.
CheckInput tray() {
  CheckInput input;
  input.title = "tray";
  input.pocket.mesh = shapes::box({-270, -170, -9.2}, {270, 170, 0});
  input.skin.mesh = shapes::box({-290, -190, -10}, {290, 190, 0});
  for (LoadedMesh* mesh : {&input.pocket, &input.skin})
    mesh->findings = inspect_mesh(mesh->mesh);
  input.setup.bed.seating = Seating::pressed;
  input.budget.limit_mm = 0.5;
  input.budget.trials = 200;
  return input;
}

/// Readings of 0 every 40 mm, and one of `height` at (x, y) among eight of 0 `apart` mm around it.
std::shared_ptr<const BedMap> bump(double x, double y, double apart, double height) {
  std::vector<Vec3> readings;
  for (double at_x = -320; at_x <= 320; at_x += 40)
    for (double at_y = -220; at_y <= 220; at_y += 40)
      if (std::abs(at_x - x) >= 1.5 * apart || std::abs(at_y - y) >= 1.5 * apart)
        readings.push_back({at_x, at_y, 0});
  for (const double dx : {-apart, 0.0, apart})
    for (const double dy : {-apart, 0.0, apart})
      readings.push_back({x + dx, y + dy, dx == 0 && dy == 0 ? height : 0});
  return std::make_shared<const BedMap>(BedMap::scattered(readings));
}

/// As the program does: errors known before walls are.
CheckReport checked(CheckInput input) {
  Box box = input.pocket.findings.box;
  box.add(input.skin.findings.box);
  input.reach = reach_of(input.setup, box);
  return check_piece(std::move(input), {}).report;
}

} // namespace

TEST_CASE("a floor of two facets is as thin as the highest reading of the bed makes it") {
  struct Bump {
    double x, y, apart, height;
  };
  for (const Bump& b :
       {Bump{43, 37, 20, 0.32}, Bump{44.2, 34.7, 5, 0.4}, Bump{-131.3, 90.1, 10, 0.34}}) {
    CAPTURE(b.apart);
    CheckInput input = tray();
    input.setup.bed.readings = bump(b.x, b.y, b.apart, b.height);
    const CheckReport report = checked(std::move(input));
    CHECK(report.wall.verdict == Verdict::thin);
    CHECK(report.wall.least_wall.expected_mm == Approx(0.8 - b.height).epsilon(1e-9));
    CHECK(report.wall.least_wall.design_mm == Approx(0.8).epsilon(1e-9));
    CHECK(report.wall.area_under_limit_mm2 > 0);
  }
}

TEST_CASE("where the board is read thin its floor is thin") {
  // Both sides from the top: the floor hangs between two programs made for 20 mm.
  CheckInput input = tray();
  input.setup.inner.zero = input.setup.outer.zero = ZeroFrom::top;
  input.setup.inner.assumed_thickness_mm = input.setup.outer.assumed_thickness_mm = 20;
  std::vector<Vec3> readings;
  for (double x = -320; x <= 320; x += 40)
    for (double y = -220; y <= 220; y += 40)
      readings.push_back({x, y, 20});
  readings.push_back({61, 43, 20.3}); // thicker there than where it was touched: thinner floor
  input.setup.board.thickness_readings =
      std::make_shared<const BedMap>(BedMap::scattered(readings));
  input.setup.inner.touch_point = input.setup.outer.touch_point = Point2{-200, -100};
  const CheckReport report = checked(std::move(input));
  const double found = report.wall.least_wall.expected_mm;
  CHECK(std::abs(std::abs(found - 0.8) - 0.3) < 1e-9);
}
