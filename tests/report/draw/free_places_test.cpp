#include "report/draw/free_places.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

PicturePoint middle(const LabelBox& box) {
  return {(box.left + box.right) / 2, (box.top + box.bottom) / 2};
}

} // namespace

TEST_CASE("a label stands where it is wanted as long as it hides nothing there") {
  FreePlaces free({0, 0, 100, 60});
  const auto box = free.place({40, 30}, 20, 10);
  REQUIRE(box);
  CHECK(middle(*box).x == doctest::Approx(40));
  CHECK(middle(*box).y == doctest::Approx(30));
  const auto next = free.place({40, 30}, 20, 10); // the first one stands there
  REQUIRE(next);
  CHECK_FALSE(next->overlaps(*box));
}

TEST_CASE("labels keep off lines by half their width, and inside the frame") {
  FreePlaces free({0, 0, 100, 60});
  free.keep_clear({0, 30}, {100, 30}, 3);
  CHECK(free.clear({10, 10, 30, 26}));
  CHECK_FALSE(free.clear({10, 10, 30, 28}));
  CHECK_FALSE(free.clear({10, 28, 30, 32})); // the line passes through, both ends are outside
  CHECK_FALSE(free.clear({-1, 10, 30, 20}));
  const auto box = free.place({50, 30}, 20, 10);
  REQUIRE(box);
  CHECK((box->bottom <= 27 || box->top >= 33));
}

TEST_CASE("a label that belongs to one side of a line stays there, or is not placed") {
  FreePlaces free({0, 0, 100, 60});
  free.keep_clear({0, 20}, {100, 20}, 1, true);
  const auto below = free.place({50, 18}, 20, 10, PicturePoint{50, 22});
  REQUIRE(below);
  CHECK(below->top >= 21);
  CHECK_FALSE(free.place({50, 50}, 20, 30, PicturePoint{50, 19})); // too high for what is above
}
