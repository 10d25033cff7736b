// Where a datum can be touched and where a witness pad finds room.
#include "bed/bed_map.h"
#include "budget/advice/alternatives.h"
#include "budget/advice/dowel_room.h"
#include "budget/advice/plan_room.h"
#include "budget/advice/touch_place.h"
#include "budget/advice/touch_search.h"
#include "budget/effects/cut_area.h"
#include "budget/pad/pad_place.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;

namespace {

/// A part of 100 by 40 mm round 0, 0, a sample every `step` mm.
std::vector<WallSample> part(double step) {
  std::vector<WallSample> out;
  for (double x = -50; x <= 50; x += step)
    for (double y = -20; y <= 20; y += step)
      out.push_back({{x, y, -19}, {0, 0, -1}, 0.8});
  return out;
}

Setup on_board() {
  Setup s;
  s.board.footprint = Footprint{{-80, -50}, {80, 50}};
  return s;
}

} // namespace

TEST_CASE("the part is cut where samples are near or lie on all sides, however far apart") {
  CHECK(cut_there(part(20), {-50, -20}, 1));
  CHECK(cut_there(part(20), {1, 1}, 0.1)); // 9 mm from the next sample
  CHECK_FALSE(cut_there(part(20), {60, 0}, 5));
  CHECK(cut_there(part(20), {60, 0}, 10.5));
  CHECK_FALSE(cut_there({}, {0, 0}, 5));
}

TEST_CASE("a zero on the bed is touched beside the board, one on top where the face stays") {
  Setup s = on_board();
  const auto samples = part(5);
  CHECK(touch_place(s, Side::a, {0, 0}, samples) == TouchPlace::cut_away);
  CHECK(touch_place(s, Side::a, {70, 40}, samples) == TouchPlace::good);
  s.inner.bit.zero = BitZero::tool_setter; // one touch, before anything is cut
  CHECK(touch_place(s, Side::a, {0, 0}, samples) == TouchPlace::good);
  s.outer.zero = ZeroFrom::bed;
  CHECK(touch_place(s, Side::b, {70, 40}, samples) == TouchPlace::under_board);
  CHECK(touch_place(s, Side::b, {-80, 0}, samples) == TouchPlace::good); // at its edge
  CHECK(touch_place(s, Side::b, {90, 0}, samples) == TouchPlace::good);

  CHECK(touch_notices(s, samples).empty()); // nothing was stated
  s.inner.bit.zero = BitZero::retouched;
  s.inner.touch_point = Point2{0, 0};
  s.outer.touch_point = Point2{70, 40};
  const auto notices = touch_notices(s, samples);
  REQUIRE(notices.size() == 2);
  CHECK(notices[0].code == "touch-cut-away");
  CHECK(notices[1].code == "touch-under-board");
  CHECK(notices[1].text.find("Side B") == 0);
  CHECK(notices[1].text.find("x 70.0 y 40.0") != std::string::npos);
}

TEST_CASE("no advice to touch where nothing is left to touch") {
  Setup s = on_board();
  s.inner.touch_point = Point2{-70, 40};
  s.outer.touch_point = Point2{70, 40};
  s.board.variation_mm = 0.1; // where it is touched matters
  const auto count = [&](const char* words) {
    int n = 0;
    for (const Alternative& a : alternatives_of(s, {10, 5}, part(5)))
      n += a.change.find(words) != std::string::npos ? 1 : 0;
    return n;
  };
  CHECK(count("the middle") == 0);
  CHECK(count("the thinnest place") == 0);
  CHECK(count("same point of the part") == 2); // both corners stay
  s.inner.bit.zero = s.outer.bit.zero = BitZero::tool_setter;
  CHECK(count("the middle") == 1);
  CHECK(count("the thinnest place, x 10.0 y 5.0") == 1);
  s.outer.zero = ZeroFrom::bed; // the board lies on all of these
  CHECK(count("the middle") == 0);
  CHECK(count("Touch off side B at the same point") == 0);
  CHECK(count("Touch off side A at the same point") == 1);
}

TEST_CASE("where a datum can be touched: on uncut wood, on bare bed, where it was read, off pins") {
  Setup s = on_board();
  s.flip.dowels = Dowels{0.02, 0.02, 90, {}, true}; // at 0, -45 and 0, 45
  const auto samples = part(5);
  const TouchSearch touch(s, samples, {10, 5}, true), no_board(s, samples, {10, 5}, false);
  CHECK_FALSE(touch.can_touch(s, Side::a, {0, 0})); // cut
  CHECK(touch.can_touch(s, Side::a, {70, 40}));
  CHECK_FALSE(touch.can_touch(s, Side::a, {79, 40})); // half the bit is beside the board
  CHECK_FALSE(touch.can_touch(s, Side::a, {90, 40}));
  CHECK_FALSE(touch.can_touch(s, Side::b, {5, 42})); // a pin
  s.outer.zero = ZeroFrom::bed;
  CHECK_FALSE(touch.can_touch(s, Side::b, {70, 40}));
  CHECK_FALSE(touch.can_touch(s, Side::b, {81, 40}));
  CHECK(touch.can_touch(s, Side::b, {84, 40}));
  CHECK_FALSE(no_board.can_touch(s, Side::b, {84, 40}));
  CHECK(touch.best(s, Side::b) == Point2{-90, 0}); // all the same: the left side's middle
  // Read under and left of the board alone, flipped about y: side B has bare bed on its right.
  s.bed.readings = std::make_shared<const BedMap>(BedMap::from_readings(std::vector<Vec3>{
      {-100, -60, 0.3}, {80, -60, 0}, {-100, 60, 0.1}, {80, 60, 0}, {-90, 0, 0.05}}));
  CHECK_FALSE(touch.can_touch(s, Side::b, {-84, 0}));
  CHECK(touch.can_touch(s, Side::b, {84, 0}));
  const auto best = touch.best(s, Side::b);
  REQUIRE(best);
  CHECK(touch.can_touch(s, Side::b, *best));
  // The bed is highest at -100, -60: that is where side B's walls come out thickest.
  CHECK(best->x > 95);
  CHECK(best->y == -60);
  CHECK(point_text({-70, 12.5}) == "x -70.0 y 12.5");
  CHECK(point_text({-70.25, 0}) == "x -70.250 y 0.000");
}

TEST_CASE("of equal touch points the other side's comes first, then the own one") {
  Setup s = on_board(); // evenly flat: where it is touched changes no wall
  s.inner.touch_point = Point2{-71, 33};
  s.outer.touch_point = Point2{72, -31}; // neither lies on a ring along the edge
  const auto samples = part(5);
  const TouchSearch touch(s, samples, {10, 5}, true);
  CHECK(touch.best(s, Side::a) == s.outer.touch_point);
  CHECK(touch.best(s, Side::b) == s.inner.touch_point);
  CHECK(touch.best_for_both(s) == s.inner.touch_point);
}

TEST_CASE("no datum is touched on a dowel: within half a pin and half a bit of its middle") {
  Setup s = on_board();
  s.flip.dowels = Dowels{0.02, 0.02, 90, {}, true}; // at 0, -45 and 0, 45
  const auto samples = part(5);
  for (const Side side : {Side::a, Side::b}) {
    CHECK(touch_place(s, side, {0, 45}, samples) == TouchPlace::on_dowel);
    CHECK(touch_place(s, side, {-6.9, -45}, samples) == TouchPlace::on_dowel);
    CHECK(touch_place(s, side, {-7.1, -45}, samples) == TouchPlace::good);
  }
  s.inner.touch_point = Point2{0, 45};
  const auto notices = touch_notices(s, samples);
  REQUIRE(notices.size() == 1);
  CHECK(notices[0].code == "touch-on-dowel");
  CHECK(notices[0].about == NoticeAbout::side_a);
  CHECK(notices[0].text.starts_with("Side A: Z zero is touched at x 0.0 y 45.0, where a dowel"));

  s.flip.dowels->spacing_mm = 110; // beside the board, where the bed is touched
  s.outer.zero = ZeroFrom::bed;
  CHECK(touch_place(s, Side::b, {0, 55}, samples) == TouchPlace::on_dowel);
  CHECK(touch_place(s, Side::b, {0, 45}, samples) == TouchPlace::under_board);
  CHECK(touch_place(s, Side::b, {8, 55}, samples) == TouchPlace::good);
  s.flip.located_by = LocatedBy::edges; // no pins
  CHECK(touch_place(s, Side::b, {0, 55}, samples) == TouchPlace::good);
}

TEST_CASE("without a board dowels are looked for where one part puts them, not among several") {
  Setup s;
  s.flip.line = FlipLine::along_x;
  s.flip.dowels = Dowels{0.02, 0.02, 130, {}, true}; // at -65, 0 and 65, 0 for one part round 0
  const auto samples = part(5);
  const std::size_t halves[] = {samples.size() / 2, samples.size() - samples.size() / 2};
  CHECK(touch_place(s, Side::b, {65, 0}, samples) == TouchPlace::on_dowel);
  CHECK(touch_place(s, Side::b, {65, 0}, samples, halves) == TouchPlace::good); // no one knows
  CHECK(touch_place(s, Side::b, {65, 0}, {}) == TouchPlace::good);
  s.flip.dowels->middle = Point2{5, 0};
  CHECK(touch_place(s, Side::b, {70, 0}, samples, halves) == TouchPlace::on_dowel);
  CHECK(touch_place(s, Side::b, {70, 0}, {}) == TouchPlace::on_dowel);
}

TEST_CASE("the witness pad keeps clear of touch points, dowels and part") {
  Setup s = on_board();
  const auto samples = part(5);
  s.inner.touch_point = s.outer.touch_point = Point2{-70, -40};
  s.flip.dowels = Dowels{0.02, 0.02, 90, {}, true};
  const PadPlace p = pad_place(s, samples);
  CHECK(p.clear);
  const double half = kPadSize_mm / 2, corner = half * std::sqrt(2.0);
  CHECK(std::abs(p.at.x) + half < 80);
  CHECK(std::abs(p.at.y) + half < 50);
  CHECK(std::hypot(p.at.x + 70, p.at.y + 40) > corner);
  for (const double y : {-45.0, 45.0})
    CHECK(std::hypot(p.at.x, p.at.y - y) > corner);
  for (const WallSample& w : samples)
    CHECK(std::hypot(p.at.x - w.at.x, p.at.y - w.at.y) > corner);
  s.inner.touch_point = s.outer.touch_point = Point2{70, 40};
  CHECK(pad_place(s, samples).at.x < 0); // the low corner is free now
  s.board.footprint = Footprint{{-52, -22}, {52, 22}};
  CHECK_FALSE(pad_place(s, samples).clear);
}

TEST_CASE("the witness pad goes between the corners where all four are taken") {
  Setup s = on_board();
  s.inner.touch_point = Point2{70, -40};
  s.outer.touch_point = Point2{70, 40};
  s.flip.dowels = Dowels{0.02, 0.02, 80, Point2{-70, 0}, true}; // at -70, -40 and -70, 40
  const PadPlace p = pad_place(s, part(5));
  CHECK(p.clear);
  // Half a pad (7.5 mm) and 2 mm of rim inside the board, an eighth along the edge of the low
  // corner.
  CHECK(p.at.x == doctest::Approx(-70.5 + 141.0 / 8));
  CHECK(p.at.y == doctest::Approx(-40.5));
}

TEST_CASE("a zero on top is no use beside the board; without a board the part stands in for it") {
  Setup s = on_board();
  const auto samples = part(5);
  CHECK(touch_place(s, Side::a, {80, 0}, samples) == TouchPlace::good); // at its edge
  CHECK(touch_place(s, Side::a, {80.5, 0}, samples) == TouchPlace::off_board);
  CHECK(touch_place(s, Side::a, {0, -50.5}, samples) == TouchPlace::off_board);
  s.inner.bit.zero = BitZero::tool_setter; // touched once, but the board must be there
  CHECK(touch_place(s, Side::a, {80.5, 0}, samples) == TouchPlace::off_board);
  s.inner.touch_point = Point2{90, 0};
  const auto notices = touch_notices(s, samples);
  REQUIRE(notices.size() == 1);
  CHECK(notices[0].code == "touch-off-board");
  CHECK(notices[0].text.starts_with("Side A: "));
  CHECK(notices[0].about == NoticeAbout::side_a);

  s.board.footprint.reset();
  CHECK(touch_place(s, Side::a, {500, 0}, samples) == TouchPlace::good); // no one knows
  s.outer.zero = ZeroFrom::bed;
  CHECK(touch_place(s, Side::b, {49, 0}, samples) == TouchPlace::under_board);
  CHECK(touch_place(s, Side::b, {51, 0}, samples) == TouchPlace::good);
  CHECK(touch_trouble(TouchPlace::good).empty());
  for (const TouchPlace bad :
       {TouchPlace::under_board, TouchPlace::off_board, TouchPlace::cut_away})
    CHECK_FALSE(touch_trouble(bad).empty());
}

namespace {

/// The part's lower face as two facets: corners at -50, -20 and 50, 20.
struct Coarse {
  std::vector<WallSample> samples = part(100);
  std::vector<Tri> cells;
  Coarse() {
    samples.clear();
    for (const Point2 p : {Point2{-50, -20}, {50, -20}, {50, 20}, {-50, 20}})
      samples.push_back({{p.x, p.y, -19}, {0, 0, -1}, 0.8});
    cells = {{0, 1, 2}, {0, 2, 3}};
  }
};

} // namespace

TEST_CASE("how far a place is from a part of large facets") {
  const Coarse c;
  CHECK(plan_distance(c.samples, c.cells, {0, 0}) == 0);
  CHECK(plan_distance(c.samples, c.cells, {10, -15}) == 0);
  CHECK(plan_distance(c.samples, c.cells, {0, 25}) == doctest::Approx(5));
  CHECK(plan_distance(c.samples, c.cells, {53, -24}) == doctest::Approx(5)); // 3, 4, 5
  CHECK(std::isinf(plan_distance(c.samples, {}, {0, 0})));
  CHECK(square_meets_part(c.samples, c.cells, {57, 0}, 7.5));
  CHECK_FALSE(square_meets_part(c.samples, c.cells, {58, 0}, 7.5));
  CHECK(square_meets_part(c.samples, c.cells, {0, 0}, 1)); // wholly inside
  // Beside the long edge of one facet alone: corners are far, the square is over it.
  CHECK(square_meets_part(c.samples, {c.cells.data(), 1}, {0, 5}, 5.1));
  CHECK_FALSE(square_meets_part(c.samples, {c.cells.data(), 1}, {-10, 10}, 5.1));
}

TEST_CASE("dowels in the piece are a doubt, close to it a warning, clear of it nothing") {
  const Coarse c;
  Setup s = on_board();
  const auto found = [&] { return dowel_notices(s, {0, 0}, c.samples, c.cells); };
  CHECK(found().empty());                           // nothing stated
  s.flip.dowels = Dowels{0.02, 0.02, 30, {}, true}; // at 0, -15 and 0, 15
  REQUIRE(found().size() == 1);
  CHECK(found()[0].code == "dowel-in-piece");
  CHECK(found()[0].severity == Severity::doubt);
  CHECK(found()[0].text.find("x 0.0 y -15.0 and x 0.0 y 15.0") != std::string::npos);
  s.flip.dowels->spacing_mm = 55; // 7.5 mm from the part
  REQUIRE(found().size() == 1);
  CHECK(found()[0].code == "dowel-near-piece");
  CHECK(found()[0].severity == Severity::warning);
  CHECK(found()[0].text.find("7.5 mm from its middle") != std::string::npos);
  s.flip.dowels->middle = Point2{0, 10}; // one in the part's edge, one clear
  CHECK(found()[0].code == "dowel-in-piece");
  s.flip.dowels->middle.reset();
  s.flip.dowels->spacing_mm = 56; // 8 mm
  CHECK(found().empty());
  s.flip.dowels->spacing_mm = 30;
  s.flip.located_by = LocatedBy::edges;
  CHECK(found().empty());
}

TEST_CASE("the witness pad keeps clear of facets whose corners are far") {
  const Coarse c;
  Setup s = on_board();
  s.board.footprint = Footprint{{-80, -32}, {80, 32}};
  s.inner.touch_point = s.outer.touch_point = Point2{-70, -25};
  s.flip.dowels = Dowels{0.02, 0.02, 140, Point2{0, 0}, false}; // at -70 and 70: corners only
  const PadPlace p = pad_place(s, c.samples, c.cells);
  CHECK(p.clear);
  CHECK_FALSE(square_meets_part(c.samples, c.cells, p.at, kPadSize_mm / 2 + 2.9));
  // 15 mm and its margins do not fit beside the part: places between the corners look free when
  // only samples are asked.
  s.board.footprint = Footprint{{-60, -32}, {60, 32}};
  s.flip.dowels.reset();
  CHECK_FALSE(pad_place(s, c.samples, c.cells).clear);
  CHECK_FALSE(pad_clear_of_part(c.samples, c.cells, {0, 30}));
  CHECK(pad_clear_of_part(c.samples, c.cells, {0, 31}));
}
