#include "report/sheet/sheet_drawing.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

/// For a touch point at 0, 0 on paper of full size, and dowels at these places.
PicturePoint way_beside(std::vector<Point2> dowels) {
  SideMarks marks;
  marks.dowels = std::move(dowels);
  return bit_way(PaperFrame{}, marks);
}

bool same(PicturePoint a, PicturePoint b) {
  return a.x == b.x && a.y == b.y;
}

} // namespace

TEST_CASE("the bit at the touch point is drawn where it covers no dowel") {
  // Drawn 4.6 mm long and 4.4 mm wide, 0.2 mm of air round it; a dowel's cross reaches 2.8 mm.
  const PicturePoint up{0, -1}, right{1, 0}, left{-1, 0}, down{0, 1}; // y runs down on paper
  CHECK(same(way_beside({}), up));
  CHECK(same(way_beside({{0, 7.7}}), up)); // model y runs up
  CHECK(same(way_beside({{0, 7.5}}), right));
  CHECK(same(way_beside({{0, 7.5}, {7.5, 0}}), left));
  CHECK(same(way_beside({{5.1, 0}}), left)); // the cross reaches under the bit
  CHECK(same(way_beside({{5.3, 0}}), up));
  CHECK(same(way_beside({{0, 4}}), down));
  CHECK(same(way_beside({{0, 0}}), up)); // nowhere free
}
