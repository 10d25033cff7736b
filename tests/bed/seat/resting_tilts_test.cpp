#include "causes/setup_support.h"

#include "bed/seat/contact_places.h"
#include "bed/seat/resting_tilts.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

// The one plane of a board that does not rock.
SeatPlane seat_on(const BedMap& bed, const Footprint& f) {
  const auto tilts = resting_tilts(bed, f);
  REQUIRE(tilts);
  CHECK(tilts->planes.size() == 1);
  CHECK_FALSE(tilts->rocks);
  return tilts->planes[0];
}

// Every plane through three of the places under which all places lie and whose triangle reaches
// into the square of half side `half` around the middle (by a lattice of points of the square).
std::vector<SeatPlane> by_triples(const std::vector<Vec3>& p, Point2 c, double half) {
  std::vector<SeatPlane> found;
  for (std::size_t i = 0; i < p.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      for (std::size_t k = 0; k < j; ++k) {
        const Vec3 n = cross(p[j] - p[i], p[k] - p[i]);
        if (std::abs(n.z) < 1e-9)
          continue;
        SeatPlane plane{-n.x / n.z, -n.y / n.z, 0};
        plane.offset_mm = p[i].z - plane.slope_x * p[i].x - plane.slope_y * p[i].y;
        bool under = true;
        for (const Vec3& q : p)
          under = under && q.z <= plane.at({q.x, q.y}) + 1e-10;
        if (!under)
          continue;
        const auto turn = [&](const Vec3& a, const Vec3& b, Point2 v) {
          return ((b.x - a.x) * (v.y - a.y) - (b.y - a.y) * (v.x - a.x)) * (n.z > 0 ? 1 : -1);
        };
        bool reaches = false;
        for (int u = -10; u <= 10; ++u)
          for (int w = -10; w <= 10; ++w) {
            const Point2 v{c.x + half * u / 10, c.y + half * w / 10};
            reaches = reaches || (turn(p[i], p[j], v) >= -1e-9 && turn(p[j], p[k], v) >= -1e-9 &&
                                  turn(p[k], p[i], v) >= -1e-9);
          }
        if (reaches)
          found.push_back(plane);
      }
  return found;
}

// Highest of all planes at a place: where a stiff board can lie at worst.
double highest_at(const std::vector<SeatPlane>& planes, Point2 v) {
  double most = -1e9;
  for (const SeatPlane& p : planes)
    most = std::max(most, p.at(v));
  return most;
}

// The lowest plane over c by brute force, from many places: the height over c is the least, over
// both slopes, of the highest place above the slope; convex, so nested golden sections find it.
double height_by_search(const std::vector<Vec3>& places, Point2 c) {
  const auto height = [&](double a, double b) {
    double most = -1e9;
    for (const Vec3& p : places)
      most = std::max(most, p.z - a * (p.x - c.x) - b * (p.y - c.y));
    return most;
  };
  const auto least = [](const auto& f) {
    double low = -0.02, high = 0.02;
    constexpr double kGolden = 0.6180339887498949;
    double p = high - kGolden * (high - low), q = low + kGolden * (high - low);
    double fp = f(p), fq = f(q);
    while (high - low > 1e-7) {
      if (fp < fq) {
        high = q;
        q = p, fq = fp;
        fp = f(p = high - kGolden * (high - low));
      } else {
        low = p;
        p = q, fp = fq;
        fq = f(q = low + kGolden * (high - low));
      }
    }
    return std::min(fp, fq);
  };
  return least([&](double a) { return least([&](double b) { return height(a, b); }); });
}

} // namespace

TEST_CASE("a stiff board on a plane, a ridge, one high corner: closed forms") {
  const Footprint f{{-50, -40}, {50, 40}};
  const SeatPlane plane = seat_on(
      *grid_of(50, 40, 3, 3, [](double x, double y) { return 0.1 + 0.002 * x - 0.001 * y; }), f);
  CHECK(plane.slope_x == Approx(0.002));
  CHECK(plane.slope_y == Approx(-0.001));
  CHECK(plane.offset_mm == Approx(0.1));
  // A ridge of 0.2 along the middle line x = 0 carries it; it tips to either side until the ridge
  // and one long edge of the board carry it: 0.2 over 50 mm.
  auto tilts =
      resting_tilts(*grid_of(50, 40, 5, 3, [](double x, double) { return x == 0 ? 0.2 : 0.0; }), f);
  REQUIRE(tilts);
  REQUIRE(tilts->planes.size() == 2);
  CHECK(tilts->rocks);
  for (const SeatPlane& p : tilts->planes) {
    CHECK(p.at({0, 17}) == Approx(0.2));
    CHECK(std::abs(p.slope_x) == Approx(0.004));
    CHECK(p.slope_y == Approx(0));
  }
  CHECK(tilts->planes[0].slope_x == Approx(-tilts->planes[1].slope_x));
  REQUIRE(tilts->over.size() == 2); // the ends of the ridge
  CHECK(std::abs(tilts->over[0].y) == 40);
  CHECK(tilts->over[1].y == -tilts->over[0].y);
  CHECK(tilts->over[0].x == 0);
  // One corner 0.3 high, three at 0: the diagonal through it carries, the middle is at 0.15; it
  // rests on that diagonal and either of the other corners.
  tilts = resting_tilts(
      *grid_of(50, 40, 2, 2, [](double x, double y) { return x > 0 && y > 0 ? 0.3 : 0.0; }), f);
  REQUIRE(tilts);
  REQUIRE(tilts->planes.size() == 2);
  CHECK(tilts->planes[0].at({0, 0}) == Approx(0.15));
  CHECK(highest_at(tilts->planes, {50, -40}) == Approx(0.3));
  CHECK(highest_at(tilts->planes, {-50, 40}) == Approx(0.3));
}

TEST_CASE("two opposite corners high: tips until a third corner carries, by hand") {
  // Corners 0 / 0.2 / 0.2 / 0: over the diagonal of the high ones it lies at 0.2; resting on one
  // low corner the other low corner's end stands 0.4 high.
  const Footprint f{{-60, -40}, {60, 40}};
  const auto tilts = resting_tilts(
      *grid_of(60, 40, 2, 2, [](double x, double y) { return x * y < 0 ? 0.2 : 0.0; }), f);
  REQUIRE(tilts);
  REQUIRE(tilts->planes.size() == 2);
  CHECK(tilts->rocks);
  for (const SeatPlane& p : tilts->planes) {
    CHECK(p.at({60, -40}) == Approx(0.2));
    CHECK(p.at({-60, 40}) == Approx(0.2));
    CHECK(std::min(p.at({60, 40}), p.at({-60, -40})) == Approx(0).epsilon(1e-12));
    CHECK(std::max(p.at({60, 40}), p.at({-60, -40})) == Approx(0.4));
  }
  CHECK(highest_at(tilts->planes, {60, 40}) == Approx(0.4));
  CHECK(highest_at(tilts->planes, {-60, -40}) == Approx(0.4));
  REQUIRE(tilts->over.size() == 2);
  for (const Vec3& p : tilts->over)
    CHECK(p.z == Approx(0.2));
}

TEST_CASE("one high spot under the middle: it tips to every side") {
  // 0.2 in the middle, 0 else: it rests on the spot and two neighbouring corners of the board.
  const Footprint f{{-60, -40}, {60, 40}};
  auto tilts = resting_tilts(
      *grid_of(60, 40, 3, 3, [](double x, double y) { return x == 0 && y == 0 ? 0.2 : 0.0; }), f);
  REQUIRE(tilts);
  REQUIRE(tilts->planes.size() == 4);
  REQUIRE(tilts->over.size() == 1);
  CHECK(tilts->over[0] == Vec3{0, 0, 0.2});
  for (const double x : {-60.0, 60.0})
    CHECK(highest_at(tilts->planes, {x, 0}) == Approx(0.4));
  for (const double y : {-40.0, 40.0})
    CHECK(highest_at(tilts->planes, {0, y}) == Approx(0.4));
  // A spot 0.1 mm beside the middle, within what is known of the centre of weight (0.144 mm).
  const std::vector<Vec3> minimum{
      {0.1, 0, 0.2}, {-60, -40, 0}, {60, -40, 0}, {60, 40, 0}, {-60, 40, 0}};
  tilts = resting_tilts(BedMap::scattered(minimum), f);
  REQUIRE(tilts);
  CHECK(tilts->planes.size() == 4);
  // 0.6 mm beside it the board always lies on the corners x = -60 as well.
  const std::vector<Vec3> off{
      {0.6, 0, 0.2}, {-60, -40, 0}, {60, -40, 0}, {60, 40, 0}, {-60, 40, 0}};
  const SeatPlane sure = seat_on(BedMap::scattered(off), f);
  CHECK(sure.at({-60, 13}) == Approx(0).epsilon(1e-9));
}

TEST_CASE("readings that do not surround the middle give no seat") {
  const BedMap bed = BedMap::scattered(std::vector<Vec3>{{10, 10, 0}, {20, 10, 0}, {10, 20, 0.1}});
  CHECK_FALSE(resting_tilts(bed, {{-50, -50}, {50, 50}}));
}

TEST_CASE("against every triple of places: all planes on which a stiff board can rest") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> noise(0, 0.3);
  const Footprint f{{-50, -40}, {50, 40}};
  const double half = kCentreKnown * std::hypot(100, 80);
  int rocking = 0, many = 0;
  for (int round = 0; round < 100; ++round) {
    const bool odd = round % 2 == 0; // a reading in the middle
    const double twist = round % 3 == 0 ? 1e-4 : 0, dish = round % 4 == 0 ? 5e-5 : 0,
                 crown = round % 5 == 0 ? 3e-4 : 0, rough = round % 7 == 0 ? 0 : 1;
    const auto bed = grid_of(50, 40, odd ? 5 : 4, odd ? 3 : 4, [&](double x, double y) {
      return twist * x * y + dish * (x * x + y * y) - crown * (x * x + y * y) +
             (rough != 0 ? noise(random) : 0);
    });
    const auto tilts = resting_tilts(*bed, f);
    REQUIRE(tilts);
    const std::vector<SeatPlane> oracle = by_triples(bed->points(), {0, 0}, half);
    REQUIRE(!oracle.empty());
    rocking += tilts->rocks ? 1 : 0;
    many += tilts->planes.size() > 2 ? 1 : 0;
    for (int i = 0; i < 20; ++i) {
      const Point2 v{-50 + 333 * noise(random), -40 + 266 * noise(random)};
      CHECK(highest_at(tilts->planes, v) == Approx(highest_at(oracle, v)).epsilon(1e-8));
    }
    for (const SeatPlane& p : tilts->planes)
      for (const Vec3& q : bed->points())
        CHECK(q.z <= p.at({q.x, q.y}) + 1e-9);
  }
  CHECK(rocking > 20);
  CHECK(many > 5);
}

TEST_CASE("places on the board's rim: crossings with the edges of the read surface, exactly") {
  // Scattered readings and grids with gaps, against some 8,000 places along the rim and all
  // readings. Forty-eight steps a side left up to 0.07 mm out.
  std::mt19937 random(11);
  const auto pick = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const Footprint f{{-41.3, -29.7}, {38.9, 31.1}};
  double max_left_out = 0;
  for (int round = 0; round < 24; ++round) {
    std::vector<Vec3> readings;
    if (round % 2 == 0) {
      for (int i = 0; i < 30; ++i)
        readings.push_back({pick(-80, 80), pick(-70, 70), pick(0, 0.4)});
      for (const double x : {-90.0, 90.0})
        for (const double y : {-80.0, 80.0})
          readings.push_back({x, y, pick(0, 0.4)});
    } else {
      for (int i = -3; i <= 3; ++i)
        for (int j = -3; j <= 3; ++j)
          if (pick(0, 1) < 0.7 || std::abs(i) == 3)
            readings.push_back({26.0 * i, 21.0 * j, pick(0, 0.4)});
    }
    const BedMap bed = BedMap::from_readings(readings);
    CHECK(bed.is_grid() == (round % 2 == 1));
    std::vector<Vec3> dense;
    const auto add = [&](double x, double y) {
      if (const auto h = bed.height_mm(x, y))
        dense.push_back({x, y, *h});
    };
    for (const Vec3& p : bed.points())
      if (p.x >= f.low.x && p.x <= f.high.x && p.y >= f.low.y && p.y <= f.high.y)
        dense.push_back(p);
    constexpr int kSteps = 2000;
    for (int i = 0; i <= kSteps; ++i) {
      const double w = static_cast<double>(i) / kSteps;
      const double x = f.low.x + w * (f.high.x - f.low.x), y = f.low.y + w * (f.high.y - f.low.y);
      add(x, f.low.y), add(x, f.high.y), add(f.low.x, y), add(f.high.x, y);
    }
    const auto tilts = resting_tilts(bed, f);
    REQUIRE(tilts);
    for (const SeatPlane& p : tilts->planes)
      for (const Vec3& q : dense)
        max_left_out = std::max(max_left_out, q.z - p.at({q.x, q.y}));
    // As low as it can be: places 0.04 mm apart miss a crossing by a hair at most.
    const auto lowest = lowest_plane(contact_places(bed, f), f.middle());
    REQUIRE(lowest);
    const double searched = height_by_search(dense, f.middle());
    CHECK(lowest->at(f.middle()) > searched - 1e-6);
    CHECK(lowest->at(f.middle()) < searched + 1e-3);
  }
  CHECK(max_left_out < 1e-9);
}

TEST_CASE("seating not known: the thinner of the two at each place") {
  Setup s;
  s.board.footprint = Footprint{{-50, -40}, {50, 40}};
  s.bed.readings =
      grid_of(50, 40, 5, 5, [](double x, double y) { return x == 0 && y == 0 ? 0.2 : 0.0; });
  s.inner.touch_point = s.outer.touch_point = Point2{50, 40};
  const auto change = [&](Seating seating, double x) {
    s.bed.seating = seating;
    return known_change(s, flat_point(x, 0, 9, 1));
  };
  for (const double x : {0.0, 25.0, -50.0}) {
    const double pressed = change(Seating::pressed, x), rigid = change(Seating::rigid, x);
    CHECK(change(Seating::unknown, x) <= std::min(pressed, rigid) + 1e-12);
  }
  CHECK(change(Seating::pressed, 0) == Approx(-0.4));
  // Zero on the bed: the whole stiff board is lifted by the crown, also where the bed is low.
  s.inner.zero = s.outer.zero = ZeroFrom::bed;
  CHECK(change(Seating::pressed, 25) == Approx(0).epsilon(1e-12));
  CHECK(change(Seating::rigid, 0) == Approx(-0.4));
}
