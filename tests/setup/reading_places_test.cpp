// Places of readings on the part: bed_place() brings each back to its reading.
#include "setup/reading_places.h"

#include "bed/bed_map.h"
#include "setup/place.h"

#include <doctest/doctest.h>
#include <memory>

using namespace leastwall;
using doctest::Approx;

TEST_CASE("readings of the bed lie under the part twice, those of the board once") {
  for (const FlipLine line : {FlipLine::along_x, FlipLine::along_y}) {
    Setup s;
    s.flip.line = line;
    s.flip.at_mm = 12;
    s.bed.part_origin_mm = {100, 50};
    const std::vector<Vec3> bed{{110, 40, 0.1}, {130, 90, 0.3}, {150, 40, -0.2}};
    s.bed.readings = std::make_shared<const BedMap>(BedMap::scattered(bed));
    s.board.thickness_readings =
        std::make_shared<const BedMap>(BedMap::scattered(std::vector<Vec3>{{3, 4, 20}}));
    const std::vector<Point2> places = reading_places(s);
    REQUIRE(places.size() == 7);
    const std::vector<Vec3>& read = s.bed.readings->points();
    for (std::size_t i = 0; i < 3; ++i) {
      const Point2 a = bed_place(s, Side::a, places[i]), b = bed_place(s, Side::b, places[3 + i]);
      CHECK(a.x == Approx(read[i].x));
      CHECK(a.y == Approx(read[i].y));
      CHECK(b.x == Approx(read[i].x));
      CHECK(b.y == Approx(read[i].y));
    }
    // Side B by hand: 10, -10 on the part as it lies, mirrored about 12.
    const Point2 mirrored = places[3];
    CHECK(mirrored.x == Approx(line == FlipLine::along_y ? 14 : 10));
    CHECK(mirrored.y == Approx(line == FlipLine::along_y ? -10 : 34));
    CHECK(places[6].x == 3);
    CHECK(places[6].y == 4);
    const std::vector<Point2> extremes = extreme_reading_places(s);
    REQUIRE(extremes.size() == 6);
    CHECK(extremes[0].x == Approx(30)); // the highest
    CHECK(extremes[1].x == Approx(50)); // the lowest
  }
  CHECK(reading_places(Setup{}).empty());
}
