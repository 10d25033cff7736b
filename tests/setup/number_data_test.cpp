// Which set-ups hang from one datum: what is touched at one point is one place of board and bed.
#include "setup/number_data.h"

#include <doctest/doctest.h>
#include <vector>

using namespace leastwall;

namespace {

Setup wall(std::uint32_t set_up, Point2 inner, Point2 outer) {
  Setup s;
  s.inner_cut.set_up = set_up;
  s.inner.touch_point = inner;
  s.outer.touch_point = outer;
  return s;
}

} // namespace

TEST_CASE("set-ups of one side with the same zero at the same point hang from one datum") {
  std::vector<Setup> walls{wall(0, {1, 1}, {9, 9}), wall(1, {1, 1}, {9, 9}),
                           wall(2, {5, 5}, {9, 9})};
  number_data(walls);
  CHECK(walls[0].inner_cut.datum == 0);
  CHECK(walls[1].inner_cut.datum == 0);
  CHECK(walls[2].inner_cut.datum == 2);
  CHECK(walls[2].outer_cut.datum == 0);
  walls[1].inner.zero = ZeroFrom::bed; // the same point, but of the bed
  number_data(walls);
  CHECK(walls[1].inner_cut.datum == 1);
}

TEST_CASE("touched places keep the numbers of a job with one wall, others come after") {
  std::vector<Setup> walls{wall(0, {1, 1}, {9, 9}), wall(1, {9, 9}, {9, 9}),
                           wall(2, {5, 5}, {9, 9})};
  number_data(walls);
  CHECK(walls[0].inner_cut.touch_place == 1); // side A's
  CHECK(walls[0].outer_cut.touch_place == 2); // side B's
  CHECK(walls[1].inner_cut.touch_place == 2); // the same place of the board
  CHECK(walls[2].inner_cut.touch_place == 3);
  for (Setup& w : walls)
    w.outer.touch_point = Point2{1, 1};
  number_data(walls);
  CHECK(walls[0].inner_cut.touch_place == 0); // one point serves both sides
  CHECK(walls[0].outer_cut.touch_place == 0);
}

TEST_CASE("one wall alone stays as it is") {
  std::vector<Setup> walls{wall(0, {1, 1}, {9, 9})};
  number_data(walls);
  CHECK_FALSE(walls[0].inner_cut.touch_place);
  CHECK_FALSE(walls[0].outer_cut.touch_place);
}
