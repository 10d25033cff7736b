// The sections of a page against a shape whose section is known.
#include "report/page/page_sections.h"

#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using doctest::Approx;

namespace {

struct Piece {
  WallMeasurement wall;
  CheckReport report;
  Budget budget;
  Setup setup;
};

/// A floor 1 mm thick under a box of 40 by 40 mm.
Piece box_in_box() {
  MeasureOptions options;
  options.ceiling_mm = 3;
  Piece p;
  p.wall = measure_wall(shapes::box({-20, -20, -6}, {20, 20, 0}),
                        shapes::box({-25, -25, -7}, {25, 25, 0}), options, {});
  while (length(p.wall.skin.samples[p.budget.least.sample].at - Vec3{3, 4, -7}) > 4)
    ++p.budget.least.sample;
  return p;
}

BudgetOptions with_limit(double mm) {
  BudgetOptions options;
  options.limit_mm = mm;
  return options;
}

} // namespace

TEST_CASE("a page's section has the lines of the shape, from the middle of its wall") {
  Piece p = box_in_box();
  const Vec3 thinnest = p.wall.skin.samples[p.budget.least.sample].at;
  p.report.wall.regions.resize(2);
  p.report.wall.regions[0].at = thinnest;  // the same place
  p.report.wall.regions[1].at = {1, 2, 3}; // none
  PageInput input{p.report, p.wall.skin, p.budget, with_limit(0.8), p.setup};
  CHECK(page_sections(input).empty());
  input.wall = &p.wall;
  input.inner = "candle room";
  const Json sections = page_sections(input);
  REQUIRE(sections.size() == 1);
  const Json& s = sections[0];
  CHECK(s["inner"] == "candle room");
  CHECK(s["outer"] == "skin");
  CHECK(s["height"] == 6);  // six times the wall
  CHECK(s["width"] == 9.6); // and 1.6 times that
  for (const auto& [name, z] : {std::pair{"skin", -0.5}, {"pocket", 0.5}}) {
    double from = 0, to = 0;
    REQUIRE(s[name].size() >= 4);
    for (std::size_t k = 0; k + 1 < s[name].size(); k += 2) {
      from = std::min(from, s[name][k].get<double>());
      to = std::max(to, s[name][k].get<double>());
      CHECK(s[name][k + 1].get<double>() == Approx(z));
    }
    CHECK(to - from == Approx(9.6)); // a floor along x crosses the whole window
  }
  CHECK(s["ends"] == Json::array({0.0, -0.5, 0.0, 0.5}));
  CHECK(s["out"] == Json::array({0.0, -1.0}));
}
