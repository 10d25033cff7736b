// How far errors reach, asked before any wall is measured.
#include "budget/effects/reach.h"

#include "bed/bed_map.h"

#include <doctest/doctest.h>
#include <memory>

using namespace leastwall;

namespace {

/// Heights of `base` every 8 mm, but for single peaks.
std::shared_ptr<const BedMap> peaks(double base, const std::vector<Vec3>& of) {
  std::vector<double> x, y;
  for (int i = -18; i <= 18; ++i)
    x.push_back(8 * i);
  for (int j = -19; j <= 19; ++j)
    y.push_back(8 * j);
  std::vector<std::optional<double>> heights;
  for (const double at_y : y)
    for (const double at_x : x) {
      double z = base;
      for (const Vec3& p : of)
        if (p.x == at_x && p.y == at_y)
          z = base + p.z;
      heights.emplace_back(z);
    }
  return std::make_shared<const BedMap>(BedMap::grid(x, y, heights));
}

} // namespace

TEST_CASE("peaks of bed and board that meet at one place count together, be they not the highest") {
  Setup setup;
  setup.board.footprint = Footprint{{-135, -150}, {135, 150}};
  setup.board.assumed_thickness_mm = 20;
  // At (24, 16) side A's bed, side B's, mirrored about x = 0, and the board; the highest elsewhere.
  setup.bed.readings = peaks(0, {{-32, -40, 0.25}, {24, 16, 0.245}, {-24, 16, 0.245}});
  setup.bed.part_origin_stated = true;
  setup.bed.seating = Seating::pressed;
  setup.board.thickness_readings = peaks(20, {{-64, -72, 0.25}, {24, 16, 0.245}});
  for (SideSetup* side : {&setup.inner, &setup.outer}) {
    side->zero = ZeroFrom::bed;
    side->touch_point = Point2{-142, 0};
  }
  Box piece;
  piece.add(Vec3{-130, -130, -20});
  piece.add(Vec3{130, 130, 0});
  CHECK(reach_of(setup, piece).thinner_mm >= 3 * 0.245 - 1e-9);
}
