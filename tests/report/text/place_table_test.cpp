#include "report/text/place_table.h"

#include "report/sample_walls.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("five thin places are listed, ten with all, and the others counted") {
  WallReport wall = sample::full_report().wall;
  wall.regions.resize(13, wall.regions[1]);
  const std::string text = place_table(wall, {}), all = place_table(wall, {false, 80, false, true});
  CHECK(listed_places(wall, {}) == 5);
  CHECK(text.find("\n   5 ") != text.npos);
  CHECK(text.find("\n   6 ") == text.npos);
  CHECK(text.find("  and 8 more\n") != text.npos);
  CHECK(all.find("\n  10 ") != all.npos);
  CHECK(all.find("\n  11 ") == all.npos);
  CHECK(all.find("  and 3 more\n") != all.npos);
}

TEST_CASE("where nothing is thin, a sentence says so") {
  CHECK(place_table(sample::bare_report().wall, {}).starts_with("No thin places: "));
}
