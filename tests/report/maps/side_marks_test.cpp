#include "report/maps/side_marks.h"

#include "report/sample_setups.h"
#include "report/sample_walls.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("side B is mirrored about the flip line, side A is not") {
  // Closed form: a turn about the line x = f takes x to 2 f - x and leaves y.
  Flip flip;
  flip.at_mm = 5;
  CHECK(side_place(flip, Side::a, Point2{12, 7}) == Point2{12, 7});
  CHECK(side_place(flip, Side::b, Point2{12, 7}) == Point2{-2, 7});
  flip.line = FlipLine::along_x;
  CHECK(side_place(flip, Side::b, Point2{12, 7}) == Point2{12, 3});
  CHECK(side_place(flip, Side::b, side_place(flip, Side::b, Point2{12, 7})) == Point2{12, 7});
}

TEST_CASE("a mirrored rectangle keeps low below high") {
  Flip flip;
  flip.at_mm = 5;
  const Footprint f = side_place(flip, Side::b, Footprint{{-20, -3}, {40, 8}});
  CHECK(f == Footprint{{-30, -3}, {30, 8}});
}

TEST_CASE("board, touch point and dowels of the marks lie where the side sees them") {
  const Setup setup = sample::full_setup();
  const SideMarks b = side_marks(setup, sample::full_report().box, Side::b);
  CHECK(b.board_stated);
  CHECK(b.board == Footprint{{-60, -95}, {80, 95}});
  CHECK(b.touch == Point2{70, 105});
  CHECK(b.touch_place == TouchPlace::good);
  CHECK(b.all().high.y >= 105);
  REQUIRE(b.dowels.size() == 2); // on the line, 150 mm apart, round the middle of the board
  CHECK(b.dowels[0] == Point2{5, -75});
  CHECK(b.dowels[1] == Point2{5, 75});
  CHECK(b.flip_from.x == 5);
  CHECK(b.flip_to.y > 95);

  Setup across = setup;
  across.flip.dowels->along_flip_line = false;
  across.flip.dowels->middle = Point2{15, 20};
  const SideMarks c = side_marks(across, sample::full_report().box, Side::b);
  CHECK(c.dowels[0] == Point2{70, 20}); // model x -60
  CHECK(c.dowels[1] == Point2{-80, 20});
}

TEST_CASE("a place that no one can touch is marked, and takes no room in the drawing") {
  Setup setup = sample::full_setup();
  setup.outer.touch_point = Point2{-60, 90}; // on the bed, under the board
  setup.inner.touch_point = Point2{-300, 0}; // on top, far beside it
  const Box part = sample::full_report().box;
  CHECK(side_marks(setup, part, Side::b).touch_place == TouchPlace::under_board);
  const SideMarks a = side_marks(setup, part, Side::a);
  CHECK(a.touch_place == TouchPlace::off_board);
  CHECK(a.all().low.x > -100);
}

TEST_CASE("without a board the part stands in, and the marks say so") {
  const SideMarks a = side_marks(Setup{}, sample::full_report().box, Side::a);
  CHECK_FALSE(a.board_stated);
  CHECK_FALSE(a.touch_stated);
  CHECK(a.board == Footprint{{-60, -90}, {60, 90}});
  CHECK(a.touch == Point2{0, 0});
}

TEST_CASE("a map seen from side B is its mirror image with the same walls") {
  sample::Plate plate;
  plate.wall = [](double x, double y) { return 1 + x / 100 + y / 1000; };
  const WallMap map = sample::wall_map(plate);
  Flip flip;
  flip.at_mm = 30;
  const WallMap seen = seen_from(map, flip, Side::b);
  REQUIRE(seen.samples.size() == map.samples.size());
  for (std::size_t i = 0; i < map.samples.size(); i += 97) {
    CHECK(seen.samples[i].at.x == 60 - map.samples[i].at.x);
    CHECK(seen.samples[i].at.y == map.samples[i].at.y);
    CHECK(seen.samples[i].wall_mm == map.samples[i].wall_mm);
  }
}
