// The short list holds every key and value of the long one (counted here by hand).
#include "report/words/shortened_assumptions.h"

#include <doctest/doctest.h>

using namespace leastwall;

using List = std::vector<std::string>;

TEST_CASE("keys taken as zero and keys with a usual value become one line each") {
  const List given{"trials is not stated; 20000 is used",
                   "board.variation is not stated; 0 mm is used",
                   "side_a.sanding is not stated; 0 mm is used",
                   "side_a.bit.length_from is not stated; \"datum\" is used",
                   "side_b.sanding is not stated; 0 mm is used",
                   "side_b.bit.length_from is not stated; \"datum\" is used",
                   "The pocket face is taken at z = 0.000 mm."};
  CHECK(shortened_assumptions(given) ==
        List{"0 for board.variation, side_a/b.sanding",
             "20000 for trials, \"datum\" for side_a/b.bit.length_from",
             "The pocket face is taken at z = 0.000 mm."});
}

TEST_CASE("sides that differ stay apart, and so does a value that only begins with a zero") {
  CHECK(shortened_assumptions({"side_a.sanding is not stated; 0 mm is used",
                               "side_b.sanding is not stated; 0.05 mm is used"}) ==
        List{"0 for side_a.sanding", "0.05 mm for side_b.sanding"});
  CHECK(shortened_assumptions({"side_b.bit.runout is not stated; 0 mm is used"}) ==
        List{"0 for side_b.bit.runout"});
}

TEST_CASE("what both sides leave out with the same outcome is told once") {
  CHECK(
      shortened_assumptions({"side_a.roughing is not stated; no marks are left", "the bed is flat",
                             "side_b.roughing is not stated; no marks are left",
                             "side_b.zero is not stated; the top is taken"}) ==
      List{"side_a/b.roughing is not stated; no marks are left", "the bed is flat",
           "side_b.zero is not stated; the top is taken"});
}

TEST_CASE("other sentences are left as they are") {
  const List other{"board.pocket_face_z is not stated; it is found from the meshes, as said below",
                   "no error of the Z zero was stated (--z-zero): none is counted",
                   " is not stated; 1", "x is not stated;  is used"};
  CHECK(shortened_assumptions(other) == other);
  CHECK(shortened_assumptions({}).empty());
}
