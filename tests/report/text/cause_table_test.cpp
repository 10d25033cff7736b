#include "report/text/cause_table.h"

#include "report/sample_walls.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

const TextOptions kAll{false, 80, false, true};

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A cause that does `mm` at the thinnest place.
CauseRow cause(CauseKind kind, double mm) {
  return {.id = {kind, Side::a}, .size = 0.01, .unit = "mm", .at_thinnest_mm = mm};
}

} // namespace

TEST_CASE("causes that would be shown as 0 are counted in one line") {
  WallReport wall = sample::full_report().wall;
  wall.causes.push_back(cause(CauseKind::runout, 0.00049));
  wall.causes.push_back(cause(CauseKind::ball_radius, 0));
  const std::string text = cause_table(wall, {});
  CHECK_FALSE(contains(text, "0.000"));
  CHECK(contains(text, "  2 other causes do less than 0.001 mm each here.\n"));
  CHECK(contains(cause_table(wall, kAll), "+-0.000"));
  CHECK_FALSE(contains(cause_table(wall, kAll), "other cause"));
  wall.causes.back().at_thinnest_mm = 0.0051;
  CHECK(contains(cause_table(wall, {}), "  1 other cause does less than 0.001 mm here.\n"));
  // In inches it would be 0.0000 up to 0.00005 in.
  CHECK(contains(cause_table(wall, {false, 80, true}), "less than 0.0001 in (0.003 mm) here."));
}

TEST_CASE("causes that do little and could bring nothing by themselves are counted in one line") {
  WallReport wall = sample::full_report().wall;
  wall.causes.push_back(cause(CauseKind::runout, 0.0049));
  const auto counted = [&wall] {
    return contains(cause_table(wall, {}), "  1 other cause does less than 0.005 mm here.\n");
  };
  CHECK(counted());
  CHECK(contains(cause_table(wall, {false, 80, true}), "less than 0.0002 in (0.005 mm) here."));
  CHECK(contains(cause_table(wall, kAll), "+-0.005"));
  wall.causes.back().at_thinnest_mm = -0.0051;
  CHECK_FALSE(counted());
  wall.causes.back().at_thinnest_mm = -0.0049;
  CHECK(counted());
  wall.causes.back().share = 0.006;
  CHECK_FALSE(counted());
  wall.causes.back().share = 0;
  wall.causes.back().largest_allowed_mm = 0.001;
  CHECK_FALSE(counted());
  wall.causes.back().largest_allowed_mm.reset();
  wall.causes.back().distribution = Distribution::shift;
  CHECK_FALSE(counted());
}

TEST_CASE("a cause that thins another place most stays") {
  WallReport wall = sample::full_report().wall;
  wall.causes.push_back(cause(CauseKind::runout, 0));
  CHECK(contains(cause_table(wall, {}), "1 other cause"));
  wall.regions[1].worst_cause = wall.causes.back().id;
  CHECK_FALSE(contains(cause_table(wall, {}), "other cause"));
}

TEST_CASE("a number of the job that several causes share is shown with the first that is listed") {
  WallReport wall = sample::full_report().wall;
  wall.causes = {cause(CauseKind::bed_flatness, 0), cause(CauseKind::bed_flatness, 0.1)};
  wall.causes[1].id.side = Side::b;
  for (CauseRow& c : wall.causes) {
    c.key = "bed.flatness";
    c.largest_allowed_mm = 0.123;
  }
  CHECK(contains(cause_table(wall, {}), "0.123"));
  CHECK_FALSE(contains(cause_table(wall, {}), "same"));
  CHECK(contains(cause_table(wall, kAll), "same"));
}

TEST_CASE("a standard uncertainty is no letter") {
  WallReport wall = sample::full_report().wall;
  wall.causes[0].distribution = Distribution::normal;
  CHECK(contains(cause_table(wall, {}), " standard 0.050 mm "));
  CHECK(contains(cause_table(wall, {}), "\"standard\": a standard deviation; twice as much"));
  CHECK_FALSE(contains(cause_table(wall, {}), " u 0.050"));
  CHECK(Distribution(Distribution::normal).half_width(1) == 2); // what the line says
}
