#include "report/draw/callouts.h"

#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

namespace {

constexpr CalloutFrame kFrame{100, 900, 0, 600, 50};

double side_of(PicturePoint a, PicturePoint b, PicturePoint p) {
  return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

} // namespace

TEST_CASE("labels stay inside, apart, and their leaders do not cross") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> x(100, 900), y(0, 600);
  for (int round = 0; round < 200; ++round) {
    std::vector<PicturePoint> places;
    for (int i = 0; i < 1 + round % 24; ++i)
      places.push_back(round % 3 == 0 ? PicturePoint{850, 30 + 0.1 * i}
                                      : PicturePoint{x(random), y(random)});
    const auto callouts = place_callouts(places, kFrame);
    REQUIRE(callouts.size() == places.size());
    for (std::size_t i = 0; i < callouts.size(); ++i) {
      CHECK(callouts[i].y >= 25 - 1e-9);
      CHECK(callouts[i].y <= 575 + 1e-9);
      for (std::size_t j = 0; j < i; ++j) {
        if (callouts[i].left != callouts[j].left)
          continue;
        CHECK(std::abs(callouts[i].y - callouts[j].y) >= 50 - 1e-9);
        const double column = callouts[i].left ? kFrame.left_x : kFrame.right_x;
        const PicturePoint a{column, callouts[i].y}, b{column, callouts[j].y};
        const bool crossing = side_of(a, places[i], b) * side_of(a, places[i], places[j]) < 0 &&
                              side_of(b, places[j], a) * side_of(b, places[j], places[i]) < 0;
        CHECK_FALSE(crossing);
      }
    }
  }
}

TEST_CASE("a single place gets the nearer side at its own height") {
  const auto left = place_callouts({{200, 300}}, kFrame);
  REQUIRE(left.size() == 1);
  CHECK(left[0].left);
  CHECK(left[0].y == 300);
  CHECK_FALSE(place_callouts({{800, 300}}, kFrame).at(0).left);
}

TEST_CASE("what finds no room is left out") {
  CHECK(place_callouts(std::vector<PicturePoint>(100, {300, 300}), kFrame).size() == 24);
  CHECK(place_callouts({}, kFrame).empty());
}
