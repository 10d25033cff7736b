#include "job/keys/nearest_key.h"

#include <array>
#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("edit distance: textbook pairs (Levenshtein; from memory)") {
  CHECK(edit_distance("kitten", "sitting") == 3);
  CHECK(edit_distance("saturday", "sunday") == 3);
  CHECK(edit_distance("", "abc") == 3);
  CHECK(edit_distance("same", "same") == 0);
}

TEST_CASE("edit distance: two neighbours that swapped places count once") {
  CHECK(edit_distance("tuoch_off", "touch_off") == 1);
  // Optimal string alignment edits each stretch once; the unrestricted distance of this pair is 2.
  CHECK(edit_distance("ca", "abc") == 3);
}

TEST_CASE("edit distance is symmetric and obeys the triangle inequality on these words") {
  constexpr std::array<std::string_view, 5> all = {"zero", "touch_off", "touch_point", "sanding",
                                                   "plate_error"};
  for (const auto a : all)
    for (const auto b : all) {
      CHECK(edit_distance(a, b) == edit_distance(b, a));
      for (const auto c : all)
        CHECK(edit_distance(a, c) <= edit_distance(a, b) + edit_distance(b, c));
    }
}

TEST_CASE("the nearest word, or none") {
  constexpr std::array<std::string_view, 3> words = {"thickness", "variation", "measured"};
  CHECK(nearest("thicknes", words) == "thickness");
  CHECK(nearest("mesured", words) == "measured");
  CHECK(nearest("Variation", words) == "variation");
  CHECK(nearest("colour", words).empty());
  CHECK(nearest("", words).empty());
  CHECK(nearest(std::string_view(), {}).empty());
}
